/*
 * What is known of plates: how they were drilled, what was measured of stations,
 * and what plans on them meet.
 */
#include "read.h"

static const double PI = 3.14159265358979323846;

static dividing_workshop *plate_with(const dividing_pin_in_hole *pin, double radius_mm) {
    dividing_hole_circle circle;
    dividing_direct_plate plate;
    dividing_equipment *piece = NULL;
    const dividing_equipment *pieces[1];
    dividing_workshop *workshop = NULL;
    memset(&circle, 0, sizeof circle);
    memset(&plate, 0, sizeof plate);
    circle.holes = 24;
    circle.pitch_radius.given = 1;
    circle.pitch_radius.mm = radius_mm;
    plate.name = "plate";
    plate.circles = &circle;
    plate.circle_count = 1;
    plate.registration = pin;
    STATUS(dividing_equipment_direct_plate(&plate, &piece), DIVIDING_STATUS_OK, "plate");
    pieces[0] = piece;
    STATUS(dividing_workshop_new("w", pieces, 1, &workshop), DIVIDING_STATUS_OK, "workshop");
    dividing_equipment_free(piece);
    return workshop;
}

static dividing_plan plan_with(const dividing_pin_in_hole *pin, double radius_mm,
                               const dividing_job_terms *terms) {
    dividing_workshop *workshop = plate_with(pin, radius_mm);
    dividing_equal_divisions divisions;
    dividing_job *job = NULL;
    dividing_plans *plans = NULL;
    dividing_plan plan;
    memset(&divisions, 0, sizeof divisions);
    memset(&plan, 0, sizeof plan);
    divisions.count = 24;
    STATUS(dividing_job_equal_divisions("j", &divisions, terms, &job), DIVIDING_STATUS_OK, "job");
    STATUS(dividing_plans_of(workshop, job, 0, NULL, NULL, &plans), DIVIDING_STATUS_OK, "plans");
    STATUS(dividing_plans_get(plans, 0, &plan), DIVIDING_STATUS_OK, "plan");
    dividing_plans_free(plans);
    dividing_job_free(job);
    dividing_workshop_free(workshop);
    plan.equipment = plan.equipment_kind = plan.method = NULL; /* went with the plans */
    return plan;
}

static dividing_pin_in_hole tight_pin(double zone_mm) {
    dividing_pin_in_hole pin;
    memset(&pin, 0, sizeof pin);
    pin.pin_diameter_mm = pin.hole_diameter_mm = 1;
    pin.hole_position_tolerance_mm = zone_mm;
    pin.seating = DIVIDING_PIN_SEAT_BIASED;
    return pin;
}

/* A plate that says how it was drilled is as good as one with the zone that
 * follows by plane geometry, worked out here: from a head the rougher plate's
 * holes and clearance over its radius and the ratio, and the head's own error;
 * by coordinates the circle round the square of both axes. */
static void drilled(void) {
    const double r = 50;
    dividing_drilled_on_head head;
    dividing_drilled_by_coordinates table;
    dividing_pin_in_hole pin = tight_pin(0), known;
    dividing_direct_plate plate;
    dividing_hole_circle circle;
    dividing_equipment *piece = NULL;
    double zone;
    memset(&head, 0, sizeof head);
    memset(&table, 0, sizeof table);
    head.worm_ratio.numerator = 40;
    head.worm_ratio.denominator = 1;
    head.rougher_pitch_radius_mm = 60;
    head.rougher_hole_position_tolerance_mm = 0.2;
    head.rougher_clearance_mm = 0.05;
    head.worm_error.numerator = 1; /* a minute of arc */
    head.worm_error.denominator = 21600;
    head.drill_wander_mm = 0.01;
    pin.drilled_on_head = &head;
    zone = 2 * r * (0.25 / (2 * 60 * 40) + 2 * PI / 21600) + 0.01;
    known = tight_pin(zone);
    CHECK(within(plan_with(&pin, r, NULL).error.worst_rad,
                 plan_with(&known, r, NULL).error.worst_rad, 1e-9),
          "drilled on a head");
    table.table_accuracy_mm = 0.005;
    table.drill_wander_mm = 0.002;
    pin.drilled_on_head = NULL;
    pin.drilled_by_coordinates = &table;
    known = tight_pin(2 * sqrt(2) * 0.005 + 0.002);
    CHECK(within(plan_with(&pin, r, NULL).error.worst_rad,
                 plan_with(&known, r, NULL).error.worst_rad, 1e-9),
          "drilled by coordinates");

    memset(&plate, 0, sizeof plate);
    memset(&circle, 0, sizeof circle);
    circle.holes = 24;
    plate.name = "plate";
    plate.circles = &circle;
    plate.circle_count = 1;
    plate.registration = &pin;
    pin.drilled_on_head = &head;
    STATUS(dividing_equipment_direct_plate(&plate, &piece), DIVIDING_STATUS_INCONSISTENT, "both");
    CHECK(strcmp(dividing_last_error_field(), "direct_plate.registration.drilled_by_coordinates") == 0,
          dividing_last_error_field());
    pin.drilled_by_coordinates = NULL;
    pin.hole_position_tolerance_mm = 0.01;
    STATUS(dividing_equipment_direct_plate(&plate, &piece), DIVIDING_STATUS_INCONSISTENT,
           "a zone beside it");
    pin.hole_position_tolerance_mm = 0;
    head.rougher_pitch_radius_mm = 0;
    STATUS(dividing_equipment_direct_plate(&plate, &piece), DIVIDING_STATUS_OUT_OF_RANGE,
           "no radius");
    CHECK(strstr(dividing_last_error_field(), "rougher_pitch_radius") != NULL,
          dividing_last_error_field());
}

/* ISO 2768-1, table 3, to 10 mm of shorter side: f and m 1 degree, c 1.5, v 3 (from
 * memory). */
static void classes(void) {
    dividing_job_terms terms;
    bool seen[4] = {false, false, false, false};
    double zone;
    int found;
    memset(&terms, 0, sizeof terms);
    terms.tolerance = DIVIDING_TOLERANCE_KIND_ANGULAR_CLASS;
    terms.angular_class = DIVIDING_ANGLE_CLASS_VERY_COARSE;
    terms.shorter_side_mm = 8;
    for (zone = 0.1; zone < 1.5; zone += 0.05) {
        const dividing_pin_in_hole pin = tight_pin(zone);
        const dividing_plan plan = plan_with(&pin, 10, &terms);
        const double worst = plan.error.worst_deg;
        CHECK(plan.class_met == (worst <= 1     ? DIVIDING_CLASS_MET_FINE_OR_MEDIUM
                                 : worst <= 1.5 ? DIVIDING_CLASS_MET_COARSE
                                 : worst <= 3   ? DIVIDING_CLASS_MET_VERY_COARSE
                                                : DIVIDING_CLASS_MET_NONE),
              "the tightest class that holds");
        CHECK(plan.grade_met == 0, "no grade was asked for");
        seen[plan.class_met] = true;
    }
    for (found = 0; found < 4; found++) {
        CHECK(seen[found], "every class");
    }
}

/* ISO 1328-1:2013: single pitch (0.001 d + 0.4 m + 5) 2^((A-5)/2) micrometres,
 * cumulative (0.002 d + 0.55 sqrt(d) + 0.7 m + 12) 2^((A-5)/2) (from memory). Holes
 * that each lie up to half a zone off part by a whole zone at the worst, and the
 * wheel is as large as the pitch circle. */
static void grades(void) {
    const double d = 100, m = 2;
    dividing_job_terms terms;
    unsigned seen = 0;
    double zone_um;
    memset(&terms, 0, sizeof terms);
    terms.tolerance = DIVIDING_TOLERANCE_KIND_PITCH_GRADE;
    terms.grade = 7;
    terms.reference_diameter_mm = d;
    terms.module_mm = m;
    terms.pitch_rounding = 1;
    for (zone_um = 1; zone_um < 120; zone_um *= 1.3) {
        const dividing_pin_in_hole pin = tight_pin(zone_um / 1000);
        const dividing_plan plan = plan_with(&pin, d / 2, &terms);
        unsigned grade, wanted = 0;
        for (grade = 11; grade >= 1; grade--) {
            const double by = pow(2, ((double)grade - 5) / 2);
            if (zone_um <= (0.001 * d + 0.4 * m + 5) * by &&
                zone_um <= (0.002 * d + 0.55 * sqrt(d) + 0.7 * m + 12) * by) {
                wanted = grade;
            }
        }
        CHECK(plan.grade_met == wanted, "the finest grade that holds");
        CHECK(plan.class_met == DIVIDING_CLASS_MET_NONE, "no class was asked for");
        seen |= 1u << plan.grade_met;
    }
    CHECK((seen & 1) != 0 && (seen & ~(1u | 2u)) != 0, "none, and several");
}

/* A part off the axis by e: a hole at a radius r turns by up to asin(e / r). */
static void shifts(void) {
    const dividing_pin_in_hole pin = tight_pin(0.02);
    dividing_job_terms terms;
    dividing_plan plan = plan_with(&pin, 50, NULL);
    CHECK(isnan(plan.feature_shift_mm) && isnan(plan.feature_shift_rad), "not said");
    CHECK(isnan(plan.probability), "no tolerance");
    memset(&terms, 0, sizeof terms);
    terms.part_eccentricity_mm = 0.02;
    terms.feature_radius.given = 1;
    terms.feature_radius.mm = 40;
    terms.tolerance = DIVIDING_TOLERANCE_KIND_ANGLE;
    terms.angle.numerator = 1;
    terms.angle.denominator = 360;
    plan = plan_with(&pin, 50, &terms);
    CHECK(within(plan.feature_shift_mm, 0.02, 1e-12), "the shift");
    CHECK(within(plan.feature_shift_rad, asin(0.02 / 40), 1e-12), "its angle");
    CHECK(plan.probability > 0.999 && plan.probability <= 1, "a wide tolerance");
    terms.feature_radius.given = 0;
    plan = plan_with(&pin, 50, &terms);
    CHECK(within(plan.feature_shift_mm, 0.02, 1e-12) && plan.feature_shift_rad == 0,
          "a straight cut");
}

/* Stations 0, 33 and 70 degrees, the second read 6 seconds far: about the mean of
 * all that is -2, +4 and -2; a difference to the mean of n has the uncertainty
 * u sqrt((n - 1) / n). */
static void stations(void) {
    const double arcsec = PI / 648000;
    const dividing_fraction wanted[] = {{0, 1}, {33, 360}, {70, 360}};
    const dividing_fraction read[] = {{70, 360}, {0, 1}, {33 * 600 + 1, 216000}};
    const size_t numbers[] = {2, 0, 1};
    static const double deviations[] = {-2, 4, -2};
    size_t place[3];
    double deviation[3], rest[3], uncertainty[3];
    dividing_ring_readings ring;
    dividing_measurement *measurement = NULL;
    dividing_inspection *inspection = NULL;
    dividing_inspected kind = DIVIDING_INSPECTED_OTHER;
    dividing_station_figures figures;
    dividing_deviation_places places;
    dividing_ring_figures other;
    dividing_vernier_indexer indexer;
    dividing_equipment *pieces[2] = {NULL, NULL};
    const dividing_equipment *given[2];
    dividing_faced_block block;
    dividing_workshop *workshop = NULL, *known = NULL;
    char *json = NULL;
    size_t i;
    memset(&ring, 0, sizeof ring);
    memset(&places, 0, sizeof places);
    memset(&figures, 0, sizeof figures);
    memset(&indexer, 0, sizeof indexer);
    memset(&block, 0, sizeof block);
    ring.standard_uncertainty = 2;
    STATUS(dividing_measurement_stations(&ring, wanted, 3, numbers, read, 3, &measurement),
           DIVIDING_STATUS_OK, "measurement");
    STATUS(dividing_inspection_new(measurement, 0, NULL, NULL, &inspection), DIVIDING_STATUS_OK,
           "inspection");
    STATUS(dividing_inspection_kind(inspection, &kind), DIVIDING_STATUS_OK, "kind");
    CHECK(kind == DIVIDING_INSPECTED_STATIONS, "kind");
    STATUS(dividing_inspection_stations(inspection, &figures), DIVIDING_STATUS_OK, "figures");
    CHECK(figures.stations == 3 && figures.measured_count == 3, "figures");
    STATUS(dividing_inspection_ring(inspection, 0, &other), DIVIDING_STATUS_INCONSISTENT, "ring");
    places.capacity = 2;
    places.place = place;
    places.deviation_rad = deviation;
    places.rest_rad = rest;
    places.standard_uncertainty_rad = uncertainty;
    STATUS(dividing_inspection_station_deviations(inspection, &places),
           DIVIDING_STATUS_BUFFER_TOO_SMALL, "room for two");
    places.capacity = 3;
    STATUS(dividing_inspection_station_deviations(inspection, &places), DIVIDING_STATUS_OK,
           "deviations");
    for (i = 0; i < 3; i++) {
        CHECK(place[i] == i && within(deviation[i], deviations[i] * arcsec, 1e-4 * arcsec),
              "deviation");
        CHECK(isnan(rest[i]), "no harmonics");
        CHECK(within(uncertainty[i], 2 * sqrt(2.0 / 3) * arcsec, 1e-9 * arcsec), "uncertainty");
    }
    indexer.name = "indexer";
    indexer.circle.holes = 36;
    indexer.stations = wanted;
    indexer.station_count = 3;
    block.name = "block";
    block.faces = 4;
    STATUS(dividing_equipment_vernier_indexer(&indexer, &pieces[0]), DIVIDING_STATUS_OK,
           "indexer");
    STATUS(dividing_equipment_faced_block(&block, &pieces[1]), DIVIDING_STATUS_OK, "block");
    given[0] = pieces[0];
    given[1] = pieces[1];
    STATUS(dividing_workshop_new("w", given, 2, &workshop), DIVIDING_STATUS_OK, "workshop");
    STATUS(dividing_inspection_into_workshop(inspection, 0, workshop, 1, 0, &known),
           DIVIDING_STATUS_INCONSISTENT, "a block has no stations");
    STATUS(dividing_inspection_into_workshop(inspection, 0, workshop, 0, 0, &known),
           DIVIDING_STATUS_OK, "known stations");
    STATUS(dividing_workshop_json(known, &json), DIVIDING_STATUS_OK, "JSON");
    CHECK(json != NULL && strstr(json, "\"measured_stations\"") != NULL, "the stations are kept");
    dividing_text_free(json);
    dividing_workshop_free(known);
    dividing_workshop_free(workshop);
    dividing_equipment_free(pieces[0]);
    dividing_equipment_free(pieces[1]);
    dividing_inspection_free(inspection);
    dividing_measurement_free(measurement);
}

void test_plates(void) {
    drilled();
    classes();
    grades();
    shifts();
    stations();
}
