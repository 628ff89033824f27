/*
 * Versions, statuses, and the plain functions of numbers.
 */
#include "suite.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void test_versions_and_statuses(void) {
    char text[40];
    snprintf(text, sizeof text, "%d.%d.%d", DIVIDING_VERSION_MAJOR, DIVIDING_VERSION_MINOR,
             DIVIDING_VERSION_PATCH);
    CHECK(strcmp(text, DIVIDING_VERSION) == 0, "the macros of the version");
    CHECK(strcmp(dividing_version(), DIVIDING_VERSION) == 0, "the version at run time");
    CHECK(dividing_version_number() == DIVIDING_VERSION_NUMBER, "the version as a number");

    CHECK(dividing_last_error_status() == DIVIDING_STATUS_OK, "no error yet");
    CHECK(strcmp(dividing_last_error_text(), "") == 0, "no error yet");
    CHECK(strcmp(dividing_status_name(DIVIDING_STATUS_OK), "ok") == 0, "the name of success");
    CHECK(strcmp(dividing_status_name(401), "invalid_utf8") == 0, "a status of this face");
    CHECK(strcmp(dividing_status_name(-1), "unknown_status") == 0, "no status");
    CHECK(strlen(dividing_status_text(12345)) > 0, "no status");
}

static bool near(double found, double wanted, double off) {
    return fabs(found - wanted) <= off;
}

static bool is(dividing_fraction found, int64_t numerator, int64_t denominator) {
    return found.numerator == numerator && found.denominator == denominator;
}

static void angles(void) {
    dividing_fraction third = {1, 3}, sixth = {1, 6}, bad = {1, 0}, out = {0, 1};
    dividing_fraction large = {1, INT64_MAX};
    STATUS(dividing_angle_add(third, sixth, &out), DIVIDING_STATUS_OK, "1/3 + 1/6");
    CHECK(is(out, 1, 2), "1/3 + 1/6");
    STATUS(dividing_angle_subtract(sixth, third, &out), DIVIDING_STATUS_OK, "1/6 - 1/3");
    CHECK(is(out, -1, 6), "1/6 - 1/3");
    STATUS(dividing_angle_within_turn(out, &out), DIVIDING_STATUS_OK, "-1/6");
    CHECK(is(out, 5, 6), "-1/6 is 5/6");
    STATUS(dividing_angle_multiply(sixth, 9, &out), DIVIDING_STATUS_OK, "9/6");
    CHECK(is(out, 3, 2), "9/6");
    STATUS(dividing_angle_divide(third, -4, &out), DIVIDING_STATUS_OK, "1/3 over -4");
    CHECK(is(out, -1, 12), "1/3 over -4");
    STATUS(dividing_angle_divide(third, 0, &out), DIVIDING_STATUS_OUT_OF_RANGE, "over 0");
    STATUS(dividing_angle_add(third, bad, &out), DIVIDING_STATUS_OUT_OF_RANGE, "1/0");
    STATUS(dividing_angle_add(third, large, &out), DIVIDING_STATUS_OVERFLOW, "128 bits");
    STATUS(dividing_angle_from_degrees_rounded(22.5, 1000, &out), DIVIDING_STATUS_OK, "22.5");
    CHECK(is(out, 1, 16), "22.5 degrees");
    STATUS(dividing_angle_from_radians_rounded(acos(-1.0) / 8, 1000, &out), DIVIDING_STATUS_OK,
           "pi/8");
    CHECK(out.numerator == 1 && out.denominator == 16, "pi/8 is 1/16 turn");
    STATUS(dividing_angle_from_degrees_rounded((double)NAN, 1000, &out),
           DIVIDING_STATUS_NOT_FINITE, "NaN");
    CHECK(is(out, 1, 16), "an output touched on failure");
}

void test_numbers(void) {
    /* Rounding of a few operations on numbers of this size. */
    const double off_mm = 1e-12;
    dividing_plans *plans = NULL;
    dividing_error_figure figure;
    dividing_plan plan;
    size_t count = 0;

    angles();
    CHECK(dividing_turns_to_degrees(1, 16) == 22.5, "1/16 turn");
    CHECK(near(dividing_turns_to_radians(-1, 4), -1.5707963267948966, 1e-15), "-1/4 turn");
    CHECK(isnan(dividing_turns_to_degrees(1, 0)), "1/0 turn");
    CHECK(dividing_last_error_status() == DIVIDING_STATUS_OUT_OF_RANGE, "1/0 turn");
    CHECK(isnan(dividing_turns_to_radians(1, 0)), "1/0 turn");

    /* The side of a regular hexagon is its radius (Euclid, Elements, IV.15). */
    CHECK(near(dividing_bolt_circle_chord_mm(30, 6, 1), 30, off_mm), "hexagon");
    CHECK(near(dividing_bolt_circle_x_mm(30, 6, 1, 0), 15, off_mm), "60 degrees");
    CHECK(near(dividing_bolt_circle_y_mm(30, 6, 1, 0), 15 * sqrt(3), off_mm), "60 degrees");
    CHECK(near(dividing_bolt_circle_x_mm(10, 4, -1, 45), sqrt(50), off_mm), "-45 degrees");
    CHECK(near(dividing_bolt_circle_y_mm(10, 4, -1, 45), -sqrt(50), off_mm), "-45 degrees");
    CHECK(isnan(dividing_bolt_circle_x_mm(0, 6, 1, 0)), "radius 0");
    CHECK(isnan(dividing_bolt_circle_x_mm(NAN, 6, 1, 0)), "radius NaN");
    CHECK(dividing_last_error_status() == DIVIDING_STATUS_NOT_FINITE, "radius NaN");
    CHECK(isnan(dividing_bolt_circle_y_mm(30, 1, 0, 0)), "one hole");
    CHECK(isnan(dividing_bolt_circle_y_mm(30, -1e300, 0, 0)), "-1e300 holes");
    CHECK(isnan(dividing_bolt_circle_y_mm(30, 6.5, 0, 0)), "6.5 holes");
    CHECK(isnan(dividing_bolt_circle_y_mm(30, 6, NAN, 0)), "hole NaN");
    CHECK(strcmp(dividing_last_error_field(), "hole") == 0, "hole NaN");
    CHECK(isnan(dividing_bolt_circle_chord_mm(30, 6, 7)), "7 spaces of 6");
    CHECK(isnan(dividing_bolt_circle_y_mm(30, 6, 1, INFINITY)), "first angle infinite");
    CHECK(isnan(dividing_bolt_circle_chord_mm(1e300, 6, 1)), "radius 1e300");
    CHECK(!isnan(dividing_bolt_circle_x_mm(30, 100000, 1e12, 0)), "hole 1e12");
    CHECK(isnan(dividing_bolt_circle_x_mm(30, 100000, 1e13, 0)), "hole 1e13");

    /* 40/9 = 4 + 8/18, by hand. */
    CHECK(dividing_crank_whole_turns(40, 1, 9) == 4, "nine, whole turns");
    CHECK(dividing_crank_holes(40, 1, 9, 18) == 8, "nine, holes of 18");
    CHECK(isnan(dividing_crank_holes(40, 1, 9, 20)), "nine, holes of 20");
    CHECK(dividing_last_error_status() == DIVIDING_STATUS_INCONSISTENT, "nine, holes of 20");
    CHECK(isnan(dividing_crank_holes(40, 1, 9, 0)), "no holes");
    CHECK(isnan(dividing_crank_whole_turns(40, 1, 0)), "no divisions");
    CHECK(isnan(dividing_crank_whole_turns(0, 1, 9)), "worm ratio 0");
    CHECK(isnan(dividing_crank_whole_turns(1e300, -INFINITY, 9)), "absurd worm ratio");
    CHECK(isnan(dividing_crank_whole_turns(40.5, 1, 9)), "worm ratio of half turns");

    /* 40/7 = 5 + 5/7; of 20 holes 14 2/7: 14 is nearest, 2/7 of a hole short,
     * so 2/7 / 20 / 40 of a turn of the spindle, by hand. */
    CHECK(near(dividing_crank_residual_arcsec(40, 1, 7, 20, 1), -1296000.0 * 2 / 7 / 800, 1e-9),
          "sevenths on 20 holes");
    CHECK(near(dividing_crank_residual_arcsec(40, 1, 7, 20, 2), 1296000.0 * 3 / 7 / 800, 1e-9),
          "the second seventh: 8 4/7 holes, 9 is nearest");
    CHECK(dividing_crank_residual_arcsec(40, 1, 9, 18, 5) == 0, "ninths on 18 holes");
    CHECK(near(dividing_crank_residual_arcsec(40, 1, 80, 1, 1), -1296000.0 / 80, 1e-9),
          "half a hole: the lower counts");
    CHECK(isnan(dividing_crank_residual_arcsec(40, 1, 9, 18, -1)), "part -1");

    CHECK(dividing_flat_depth_mm(24, 20) == 2, "flats of 20 on 24");
    CHECK(isnan(dividing_flat_depth_mm(20, 20)), "no cut");
    CHECK(dividing_last_error_status() == DIVIDING_STATUS_INCONSISTENT, "no cut");
    CHECK(isnan(dividing_flat_depth_mm(NAN, 20)), "stock NaN");

    /* ISO 286-2, 6 mm: H7 is 0 to +12 um, g6 is -12 to -4 um; m6 is +4 to +12. */
    CHECK(near(dividing_fit_least_clearance_mm("H7/g6", DIVIDING_NUL_ENDED, 6), 0.004, off_mm),
          "H7/g6");
    CHECK(near(dividing_fit_greatest_clearance_mm("H7/g6", 5, 6), 0.024, off_mm), "H7/g6");
    CHECK(near(dividing_fit_least_clearance_mm("H7/m6", 5, 6), -0.012, off_mm), "H7/m6");
    CHECK(isnan(dividing_fit_least_clearance_mm("g6/H7", 5, 6)), "the wrong way round");
    CHECK(strcmp(dividing_last_error_field(), "fit") == 0, "the wrong way round");
    CHECK(isnan(dividing_fit_least_clearance_mm("H7/g6", 5, 501)), "501 mm");
    CHECK(isnan(dividing_fit_least_clearance_mm("H7/g6", 5, NAN)), "NaN mm");

    /* Clearance c and zone T at radius r: 2 asin(c/(4 r)) + T/(2 r), plane geometry. */
    CHECK(near(dividing_pin_worst_error_arcsec(50, 0.02, 0.05),
               (2 * asin(0.02 / 200) + 0.05 / 100) * 648000 / 3.14159265358979323846, 1e-9),
          "a pin at 50 mm");
    CHECK(dividing_pin_worst_error_arcsec(50, 0, 0) == 0, "no clearance");
    CHECK(isnan(dividing_pin_worst_error_arcsec(50, -0.01, 0)), "clearance below 0");
    CHECK(isnan(dividing_pin_worst_error_arcsec(50, 200, 0)), "a pin that holds nothing");
    CHECK(isnan(dividing_pin_worst_error_arcsec(50, 0.02, 50)), "a zone as large");

    CHECK(dividing_sine_bar_height_mm(100, 30) == 50, "sine bar at 30 degrees");
    CHECK(isnan(dividing_sine_bar_height_mm(100, 90)), "sine bar at 90 degrees");
    CHECK(strcmp(dividing_last_error_field(), "angle_deg") == 0, "sine bar at 90 degrees");
    CHECK(isnan(dividing_sine_bar_height_mm(0, 30)), "no sine bar");

    STATUS(dividing_plans_new(WORKSHOP, DIVIDING_NUL_ENDED, NINE_SLOTS, DIVIDING_NUL_ENDED,
                              &plans),
           DIVIDING_STATUS_OK, "nine slots");
    STATUS(dividing_plans_count(plans, &count), DIVIDING_STATUS_OK, "count");
    STATUS(dividing_plans_get(plans, 0, &plan), DIVIDING_STATUS_OK, "get");
    STATUS(dividing_plans_step_error(plans, 0, 8, &figure), DIVIDING_STATUS_OK, "error");
    CHECK(count == 1 && plan.step_count == 9 && plan.exact, "nine slots");
    CHECK(plan.verdict == DIVIDING_VERDICT_NO_TOLERANCE && plan.limit_rad == 0, "verdict");
    CHECK(!plan.figure_is_complete, "a head of unknown errors");
    CHECK(strcmp(plan.equipment_kind, "worm_head") == 0, "kind");
    CHECK(figure.worst_rad >= 0 && figure.worst_rad <= plan.error.worst_rad, "error");
    dividing_plans_free(plans);
}
