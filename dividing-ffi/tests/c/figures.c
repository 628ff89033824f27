/*
 * Figures of ranges, guard bands, positions, lineage, pin pairs and entry,
 * against tables and by hand.
 */
#include "read.h"

static const double PI = 3.14159265358979323846;

static void standards(void) {
    dividing_range range = {0, 0};
    double found = 77;
    /* The control-chart constants for 2 and 5 values as tabled, four and three
     * digits: d2 1.128 and 2.326, d3 0.8525 and 0.864 (ASTM Manual on
     * Presentation of Data and Control Chart Analysis, factors for control
     * limits; from memory). Of two they are 2/sqrt(pi) and sqrt(2 - 4/pi). */
    STATUS(dividing_range_constants(5, &range), DIVIDING_STATUS_OK, "five");
    CHECK(within(range.mean, 2.326, 5e-4) && within(range.standard_deviation, 0.864, 5e-4),
          "d2 and d3 of five");
    STATUS(dividing_range_constants(2, &range), DIVIDING_STATUS_OK, "two");
    CHECK(within(range.mean, 1.128, 5e-4) && within(range.standard_deviation, 0.8525, 5e-4),
          "d2 and d3 of two");
    STATUS(dividing_range_constants(1, &range), DIVIDING_STATUS_OUT_OF_RANGE, "one");
    /* JCGM 106:2012, 8.3.2: 1.64 for 95 %; tables of the normal distribution. */
    STATUS(dividing_guard_band_factor(0.95, &found), DIVIDING_STATUS_OK, "95 %");
    CHECK(within(found, 1.644854, 1e-6), "95 %");
    STATUS(dividing_guard_band_factor(0.5, &found), DIVIDING_STATUS_OK, "50 %");
    CHECK(within(found, 0, 1e-12), "50 %");
    found = 77;
    STATUS(dividing_guard_band_factor(0.4, &found), DIVIDING_STATUS_OUT_OF_RANGE, "40 %");
    CHECK(found == 77, "an output touched on failure");
    /* The chord of a sixth of a turn is the radius (Euclid, Elements, IV.15). */
    STATUS(dividing_position_diameter_mm(50, PI / 3, 0, &found), DIVIDING_STATUS_OK, "60");
    CHECK(within(found, 100, 1e-9), "twice the chord of 60 degrees");
    STATUS(dividing_position_diameter_mm(50, 0, -0.03, &found), DIVIDING_STATUS_OK, "in");
    CHECK(within(found, 0.06, 1e-12), "0.03 mm inwards");
    STATUS(dividing_position_diameter_mm(-1, 0, 0, &found), DIVIDING_STATUS_OUT_OF_RANGE,
           "radius -1");
}

static void off_axis(void) {
    dividing_modelled_angle angle = {0, 0, 0, false};
    /* Straight across the axis stands e off the line of both holes: 2 atan(e/r). */
    STATUS(dividing_eccentricity_between(50, 0.01, PI, &angle), DIVIDING_STATUS_OK, "across");
    CHECK(within(angle.linear_rad, 2 * 0.01 / 50, 1e-15) &&
              within(angle.exact_rad, 2 * atan(0.01 / 50), 1e-15),
          "2 e / r");
    /* 2 (e/r) sin(30 degrees). */
    STATUS(dividing_eccentricity_between(50, 0.01, PI / 3, &angle), DIVIDING_STATUS_OK, "60");
    CHECK(within(angle.linear_rad, 0.01 / 50, 1e-15), "e / r");
    STATUS(dividing_eccentricity_between(50, 50, 1, &angle), DIVIDING_STATUS_UNDETERMINED,
           "an axis on the circle");
}

static void lineage(void) {
    dividing_contributor rough, made[2], x, y;
    double zone = 0;
    memset(&rough, 0, sizeof rough);
    memset(made, 0, sizeof made);
    rough.name = "plate hole position";
    rough.limit = 0.2;
    rough.unit = DIVIDING_INPUT_UNIT_MILLIMETRE;
    rough.sensitivity = 1.0 / 40;
    rough.distribution = DIVIDING_DISTRIBUTION_UNIFORM_IN_DISC;
    rough.persistence = DIVIDING_PERSISTENCE_NEW_AT_SEATING;
    STATUS(dividing_carried(&rough, 1, 40, made, 0), DIVIDING_STATUS_BUFFER_TOO_SMALL, "room");
    CHECK(made[0].limit == 0, "an output touched on failure");
    STATUS(dividing_carried(&rough, 1, 0, made, 2), DIVIDING_STATUS_OUT_OF_RANGE, "ratio 0");
    STATUS(dividing_carried(&rough, 1, 40, made, 2), DIVIDING_STATUS_OK, "through 40:1");
    CHECK(within(made[0].sensitivity, 1.0 / 1600, 1e-15) && made[0].limit == 0.2 &&
              made[0].persistence == DIVIDING_PERSISTENCE_FIXED_FOR_PLACE &&
              made[0].distribution == DIVIDING_DISTRIBUTION_UNIFORM_IN_DISC &&
              made[0].name == rough.name,
          "a fortieth");
    /* 0.2 mm / 1600 mm either way at 80 mm: 0.01 mm, as a diameter twice that. */
    STATUS(dividing_position_zone_mm(made, 1, 80, &zone), DIVIDING_STATUS_OK, "zone");
    CHECK(within(zone, 0.02, 1e-12), "zone");
    STATUS(dividing_position_zone_mm(made, 1, 0, &zone), DIVIDING_STATUS_OUT_OF_RANGE, "at 0");
    /* Straight up only X turns the hole, by 1 / 50 mm clockwise for X to the right. */
    STATUS(dividing_drilled_by_coordinates_errors(0.005, 50, PI / 2, &x, &y),
           DIVIDING_STATUS_OK, "straight up");
    CHECK(within(x.sensitivity, -0.02, 1e-15) && within(y.sensitivity, 0, 1e-15) &&
              x.limit == 0.005 && y.limit == 0.005 &&
              x.persistence == DIVIDING_PERSISTENCE_FIXED_FOR_PLACE,
          "straight up");
    CHECK(strncmp(x.name, "x axis", 6) == 0 && strncmp(y.name, "y axis", 6) == 0, "names");
    STATUS(dividing_drilled_by_coordinates_errors(0.005, 50, 0, &x, &y), DIVIDING_STATUS_OK,
           "to the right");
    CHECK(within(x.sensitivity, 0, 1e-15) && within(y.sensitivity, 0.02, 1e-15),
          "to the right only Y turns it");
}

static void pin_pairs(void) {
    dividing_equipment *pins = NULL, *block = NULL;
    dividing_pin_pair pairs[4];
    size_t count = 77, i;
    STATUS(dividing_equipment_from_json(
               "{\"pin_plate\":{\"name\":\"pins\",\"circles\":[{\"holes\":9,"
               "\"pitch_radius\":58}],\"registration\":{\"pin_diameter\":5.99,"
               "\"hole_diameter\":6,\"hole_position_tolerance\":0.02}}}",
               Z, &pins),
           DIVIDING_STATUS_OK, "pins");
    STATUS(dividing_equipment_from_json("{\"faced_block\":{\"name\":\"b\",\"faces\":4}}", Z,
                                        &block),
           DIVIDING_STATUS_OK, "block");
    STATUS(dividing_equipment_best_pin_pairs(pins, DIVIDING_CRITERION_WORST_CASE, 0, pairs, 3,
                                             &count),
           DIVIDING_STATUS_BUFFER_TOO_SMALL, "room for three");
    STATUS(dividing_equipment_best_pin_pairs(block, DIVIDING_CRITERION_WORST_CASE, 0, pairs, 4,
                                             &count),
           DIVIDING_STATUS_INCONSISTENT, "a block");
    CHECK(count == 77, "an output touched on failure");
    STATUS(dividing_equipment_best_pin_pairs(pins, DIVIDING_CRITERION_WORST_CASE, 0, pairs, 4,
                                             &count),
           DIVIDING_STATUS_OK, "pairs");
    CHECK(count == 4, "spans 1 to 4 of nine holes");
    for (i = 0; i < 4 && count == 4; i++) {
        /* The chord over the span; the longest baseline turns a bar least, and
         * what shifts an end turns it by that over the baseline. */
        CHECK(pairs[i].circle == 0 && pairs[i].holes == 9 && pairs[i].span == 4 - i &&
                  within(pairs[i].baseline_mm, 2 * 58 * sin(PI * (double)(4 - i) / 9), 1e-9),
              "the longest baseline first");
        CHECK(within(pairs[i].total_rad * pairs[i].baseline_mm,
                     pairs[0].total_rad * pairs[0].baseline_mm, 1e-9) &&
                  pairs[i].total_rad > 0,
              "total over baseline");
    }
    dividing_equipment_free(pins);
    dividing_equipment_free(block);
}

static void positions(void) {
    /* Four holes at 40 mm, the second 0.01 mm too far out. */
    static const double x[] = {40, 0, -40, 0}, y[] = {0, 40.01, 0, -40};
    dividing_ring_readings ring;
    dividing_measurement *measurement = NULL;
    dividing_inspection *inspection = NULL;
    dividing_part_verdict verdict;
    dividing_check checks[4];
    size_t i;
    memset(&ring, 0, sizeof ring);
    ring.places = 4;
    ring.axis = 1;
    ring.radius.given = 1;
    ring.radius.mm = 40;
    STATUS(dividing_measurement_points(&ring, NULL, x, y, NULL, NULL, 4, &measurement),
           DIVIDING_STATUS_OK, "holes");
    STATUS(dividing_inspection_new(measurement, 0, NULL, NULL, &inspection), DIVIDING_STATUS_OK,
           "inspection");
    STATUS(dividing_inspection_check_position(inspection, measurement, 0.021, -1, &verdict),
           DIVIDING_STATUS_OK, "0.021 mm");
    CHECK(verdict.verdict == DIVIDING_DECISION_PASS && verdict.check_count == 4 &&
              verdict.missing_count == 0,
          "twice 0.01 mm within 0.021 mm");
    STATUS(dividing_inspection_check_position(inspection, measurement, 0.019, -1, &verdict),
           DIVIDING_STATUS_OK, "0.019 mm");
    CHECK(verdict.verdict == DIVIDING_DECISION_FAIL, "not within 0.019 mm");
    STATUS(dividing_inspection_position_checks(inspection, measurement, 0.019, -1, checks, 3),
           DIVIDING_STATUS_BUFFER_TOO_SMALL, "room for three");
    STATUS(dividing_inspection_position_checks(inspection, measurement, 0.019, -1, checks, 4),
           DIVIDING_STATUS_OK, "checks");
    for (i = 0; i < 4; i++) {
        CHECK(checks[i].checked == DIVIDING_CHECKED_POSITION && checks[i].place == i &&
                  within(checks[i].value, i == 1 ? 0.02 : 0, 1e-9) &&
                  checks[i].decision ==
                      (i == 1 ? DIVIDING_DECISION_FAIL : DIVIDING_DECISION_PASS),
              "the second alone");
    }
    STATUS(dividing_inspection_check_position(inspection, measurement, 0, -1, &verdict),
           DIVIDING_STATUS_OUT_OF_RANGE, "no zone");
    dividing_inspection_free(inspection);
    dividing_measurement_free(measurement);
}

static void directions(void) {
    static const double x[] = {20, 10, -5, 10}, y[] = {20, 60, 10, 10};
    dividing_fraction turns[4] = {{7, 1}, {7, 1}, {7, 1}, {7, 1}};
    STATUS(dividing_angles_about_axis(x, y, 4, 10, 10, turns, 4), DIVIDING_STATUS_INCONSISTENT,
           "a point on the axis");
    STATUS(dividing_angles_about_axis(x, y, 3, 10, 10, turns, 2),
           DIVIDING_STATUS_BUFFER_TOO_SMALL, "room for two");
    CHECK(turns[0].numerator == 7, "an output touched on failure");
    STATUS(dividing_angles_about_axis(x, y, 3, 10, 10, turns, 4), DIVIDING_STATUS_OK, "three");
    /* (10, 10), (0, 50) and (-15, 0) from the axis. */
    CHECK(turns[0].numerator == 1 && turns[0].denominator == 8, "45 degrees");
    CHECK(turns[1].numerator == 1 && turns[1].denominator == 4, "90 degrees");
    CHECK(turns[2].numerator == 1 && turns[2].denominator == 2, "180 degrees");
    CHECK(turns[3].numerator == 7, "beyond the last");
}

/* A pin of 5.96 mm in holes of 6 mm whose zone is 0.02 mm: of half the clearance,
 * 0.02 mm, the hole takes 0.01 mm at worst. */
static void entry(void) {
    dividing_workshop *workshop = NULL;
    dividing_ways *ways = NULL;
    dividing_job *job = NULL;
    dividing_entry_finding found;
    dividing_equal_divisions fields;
    memset(&fields, 0, sizeof fields);
    fields.count = 6;
    STATUS(dividing_workshop_from_json(
               "{\"format\":1,\"name\":\"w\",\"equipment\":[{\"direct_plate\":{\"name\":\"p\","
               "\"circles\":[{\"holes\":24,\"pitch_radius\":50}],\"registration\":{"
               "\"pin_diameter\":5.96,\"hole_diameter\":6,\"hole_position_tolerance\":0.02}}},"
               "{\"faced_block\":{\"name\":\"b\",\"faces\":6}}]}",
               Z, &workshop),
           DIVIDING_STATUS_OK, "workshop");
    STATUS(dividing_job_equal_divisions("j", &fields, NULL, &job), DIVIDING_STATUS_OK, "job");
    STATUS(dividing_ways_new(workshop, NULL, 0, NULL, NULL, &ways), DIVIDING_STATUS_OK, "ways");
    STATUS(dividing_ways_pin_entry(ways, 0, job, 0, NULL, NULL, &found), DIVIDING_STATUS_OK,
           "plate");
    CHECK(within(found.worst_distance_mm, 0.01, 1e-12) &&
              within(found.worst_margin_mm, 0.01, 1e-12) && found.always_enters &&
              found.probability > 0.999 && found.probability <= 1,
          "0.01 mm left");
    STATUS(dividing_ways_pin_entry(ways, 1, job, 0, NULL, NULL, &found),
           DIVIDING_STATUS_UNDETERMINED, "a block has no pin");
    STATUS(dividing_ways_pin_entry(ways, 2, job, 0, NULL, NULL, &found),
           DIVIDING_STATUS_NOT_FOUND, "way 2");
    dividing_ways_free(ways);
    dividing_job_free(job);
    dividing_workshop_free(workshop);
}

void test_figures(void) {
    standards();
    off_axis();
    lineage();
    pin_pairs();
    positions();
    directions();
    entry();
}
