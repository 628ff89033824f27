/*
 * Calls that nobody should make: each must come back with a status, outputs
 * untouched. NULL, alignment and absurd lengths are tried on every export by
 * tests/abi.
 */
#include "suite.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define Z DIVIDING_NUL_ENDED

static dividing_plans *nine_slots(void) {
    dividing_plans *plans = NULL;
    STATUS(dividing_plans_new(WORKSHOP, Z, NINE_SLOTS, Z, &plans), DIVIDING_STATUS_OK,
           "nine slots");
    return plans;
}

static void wrong_numbers(const dividing_plans *plans) {
    const dividing_status none = DIVIDING_STATUS_NOT_FOUND;
    char mark = 'x';
    char *text = &mark;
    dividing_plan plan;
    dividing_error_figure figure;
    dividing_setting setting;
    dividing_fraction turns = {-7, -7};
    size_t i;
    const size_t wrong[] = {1, 2, 1000000, SIZE_MAX};
    memset(&plan, 0x5A, sizeof plan);
    for (i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        const size_t n = wrong[i];
        STATUS(dividing_plans_get(plans, n, &plan), none, "get");
        STATUS(dividing_plans_sheet_text(plans, n, &text), none, "text");
        STATUS(dividing_plans_sheet_html(plans, n, &text), none, "html");
        STATUS(dividing_plans_sheet_json(plans, n, &text), none, "json");
        STATUS(dividing_plans_drawing_svg(plans, n, &text), none, "svg");
        STATUS(dividing_plans_largest_residual(plans, n, &turns), none, "residual");
        STATUS(dividing_plans_largest_residual_text(plans, n, &text), none, "residual");
        STATUS(dividing_plans_step_required(plans, n, 0, &turns), none, "required");
        STATUS(dividing_plans_step_required(plans, 0, n + 8, &turns),
               n == SIZE_MAX ? DIVIDING_STATUS_OK : none, "required, 8 further");
        turns.numerator = turns.denominator = -7;
        STATUS(dividing_plans_step_attained(plans, n, 0, &turns), none, "attained");
        STATUS(dividing_plans_step_residual(plans, n, 0, &turns), none, "residual");
        STATUS(dividing_plans_step_required_text(plans, n, 0, &text), none, "required");
        STATUS(dividing_plans_step_attained_text(plans, n, 0, &text), none, "attained");
        STATUS(dividing_plans_step_residual_text(plans, n, 0, &text), none, "residual");
        STATUS(dividing_plans_step_error(plans, n, 0, &figure), none, "error");
        STATUS(dividing_plans_step_setting(plans, n, 0, &setting), none, "setting");
        STATUS(dividing_plans_step_setting_text(plans, n, 0, &text), none, "setting");
        STATUS(dividing_plans_step_setting_json(plans, n, 0, &text), none, "setting");
    }
    STATUS(dividing_plans_step_attained(plans, 0, 9, &turns), none, "step 9 of 9");
    CHECK(strcmp(dividing_last_error_field(), "step") == 0, "the field of a wrong step");
    STATUS(dividing_plans_step_setting_text(plans, 0, 9, &text), none, "step 9 of 9");
    STATUS(dividing_plans_step_setting_json(plans, 0, 9, &text), none, "step 9 of 9");
    STATUS(dividing_plans_step_setting(plans, 0, 9, &setting), none, "step 9 of 9");
    STATUS(dividing_plans_step_error(plans, 0, 9, &figure), none, "step 9 of 9");
    CHECK(text == &mark && turns.numerator == -7, "an output touched on failure");
    for (i = 0; i < sizeof plan; i++) {
        if (((unsigned char *)&plan)[i] != 0x5A) {
            CHECK(false, "an output touched on failure");
            break;
        }
    }
}

static void wrong_texts(void) {
    static const char *const bad_utf8[] = {"\xFF", "1 deg\xC3", "\xED\xA0\x80", "\xC0\x80"};
    char mark = 'x';
    char *text = &mark;
    dividing_fraction turns = {-7, -7}, zero = {1, 0}, least = {INT64_MIN, INT64_MIN};
    dividing_plans *plans = NULL;
    size_t i, length = strlen(WORKSHOP);
    for (i = 0; i < sizeof bad_utf8 / sizeof bad_utf8[0]; i++) {
        const dividing_status bad = DIVIDING_STATUS_INVALID_UTF8;
        STATUS(dividing_angle_parse(bad_utf8[i], Z, &turns), bad, "angle");
        STATUS(dividing_length_parse(bad_utf8[i], Z, &(double){0}), bad, "length");
        STATUS(dividing_workshop_check(bad_utf8[i], Z), bad, "workshop");
        STATUS(dividing_job_check(bad_utf8[i], strlen(bad_utf8[i])), bad, "job");
        STATUS(dividing_plans_new(WORKSHOP, Z, bad_utf8[i], Z, &plans), bad, "plans");
        CHECK(strcmp(dividing_last_error_field(), "job") == 0, "the field of bad UTF-8");
    }
    /* A document cut off at any byte; an exact copy, so that a checker of
     * memory sees a byte read too far. */
    for (i = 0; i < length; i++) {
        char *cut = (char *)malloc(i + 1);
        if (cut == NULL) {
            break;
        }
        memcpy(cut, WORKSHOP, i);
        cut = (char *)realloc(cut, i == 0 ? 1 : i);
        STATUS(dividing_workshop_check(cut, i), DIVIDING_STATUS_MALFORMED_JSON, "cut off");
        free(cut);
    }
    STATUS(dividing_workshop_check(WORKSHOP, length), DIVIDING_STATUS_OK, "whole");
    STATUS(dividing_workshop_check(WORKSHOP, length + 1), DIVIDING_STATUS_MALFORMED_JSON,
           "with the NUL counted");
    STATUS(dividing_plans_new(NINE_SLOTS, Z, NINE_SLOTS, Z, &plans),
           DIVIDING_STATUS_UNKNOWN_FIELD, "a job as workshop");
    CHECK(strcmp(dividing_last_error_field(), "workshop.features") == 0, "its path");
    STATUS(dividing_plans_new(WORKSHOP, Z, "{\"format\":1}", Z, &plans),
           DIVIDING_STATUS_INVALID_FIELD, "a job without a name");
    STATUS(dividing_job_check("{\"a\\u0000b\":1}", Z), DIVIDING_STATUS_UNKNOWN_FIELD,
           "a NUL in a key");

    /* Lengths that no text has are refused before a byte is read. */
    STATUS(dividing_angle_parse("1 deg", SIZE_MAX - 1, &turns), DIVIDING_STATUS_OUT_OF_RANGE,
           "a length of SIZE_MAX - 1");
    STATUS(dividing_job_check("{}", SIZE_MAX / 2), DIVIDING_STATUS_OUT_OF_RANGE,
           "a length of SIZE_MAX / 2");
    STATUS(dividing_workshop_check("{}", 16 * 1024 * 1024 + 1), DIVIDING_STATUS_OUT_OF_RANGE,
           "a length above the limit");
    STATUS(dividing_angle_parse("1 deg", 0, &turns), DIVIDING_STATUS_UNREADABLE_TEXT,
           "a text of no bytes");

    STATUS(dividing_angle_format(zero, DIVIDING_STYLE_EXACT, 0, &text),
           DIVIDING_STATUS_OUT_OF_RANGE, "denominator 0");
    STATUS(dividing_angle_nearest(zero, 5, &turns), DIVIDING_STATUS_OUT_OF_RANGE,
           "denominator 0");
    STATUS(dividing_angle_nearest(least, 0, &turns), DIVIDING_STATUS_OUT_OF_RANGE,
           "no denominator accepted");
    STATUS(dividing_angle_nearest_text("1 deg", Z, INT64_MIN, &text),
           DIVIDING_STATUS_OUT_OF_RANGE, "a denominator below 1");
    STATUS(dividing_angle_convert("1 deg", Z, 4, 0, &text), DIVIDING_STATUS_OUT_OF_RANGE,
           "style 4");
    STATUS(dividing_angle_convert("1 deg", Z, -1, 0, &text), DIVIDING_STATUS_OUT_OF_RANGE,
           "style -1");
    STATUS(dividing_angle_convert("1 deg", Z, DIVIDING_STYLE_DECIMAL_DEGREES, 31, &text),
           DIVIDING_STATUS_OUT_OF_RANGE, "31 digits");
    CHECK(plans == NULL && text == &mark && turns.numerator == -7,
          "an output touched on failure");
    STATUS(dividing_angle_nearest(least, 5, &turns), DIVIDING_STATUS_OK, "a whole turn");
    CHECK(turns.numerator == 1 && turns.denominator == 1, "INT64_MIN / INT64_MIN is 1");
}

/* A word that no document knows, deep inside each: the path leads to it. */
static void paths_of_fields(void) {
    dividing_equipment *piece = NULL;
    dividing_workshop *workshop = NULL;
    dividing_job *job = NULL;
    dividing_measurement *measurement = NULL;
    dividing_design *design = NULL;
    dividing_budget *budget = NULL;
    dividing_simulation *simulation = NULL;
    const dividing_status unknown = DIVIDING_STATUS_UNKNOWN_FIELD;
#define PATH(call, path) \
    do { \
        STATUS((call), unknown, (path)); \
        CHECK(strcmp(dividing_last_error_field(), (path)) == 0, dividing_last_error_field()); \
    } while (0)
    PATH(dividing_equipment_from_json("{\"faced_block\":{\"name\":\"b\",\"sides\":4}}", Z,
                                      &piece),
         "faced_block.sides");
    PATH(dividing_workshop_from_json("{\"format\":1,\"name\":\"w\",\"equipment\":["
                                     "{\"faced_block\":{\"name\":\"b\",\"sides\":4}}]}",
                                     Z, &workshop),
         "equipment[0].faced_block.sides");
    PATH(dividing_job_from_json("{\"format\":1,\"name\":\"j\",\"features\":{"
                                "\"equal_divisions\":{\"number\":4}}}",
                                Z, &job),
         "features.equal_divisions.number");
    PATH(dividing_measurement_from_json("{\"format\":1,\"readings\":{\"angles\":{\"holes\":4}}}",
                                        Z, &measurement),
         "readings.angles.holes");
    PATH(dividing_design_new("{\"format\":1,\"divisions\":[5],\"size\":1}", Z, 0, NULL, NULL,
                             &design),
         "size");
    PATH(dividing_budget_of_model("{\"quantity\":\"q\",\"unit\":\"mm\",\"estimate\":1,"
                                  "\"inputs\":[{\"title\":\"x\"}]}",
                                  Z, &budget),
         "inputs[0].title");
    PATH(dividing_simulation_from_json("{\"features\":[{\"angle\":0}]}", Z, &simulation),
         "features[0].angle");
#undef PATH
}

void test_hostile_calls(void) {
    dividing_plans *plans = nine_slots();
    if (plans != NULL) {
        wrong_numbers(plans);
    }
    dividing_plans_free(plans);
    wrong_texts();
    paths_of_fields();
}

static int32_t stop_at_once(uint64_t spent, void *userdata) {
    *(uint64_t *)userdata = spent;
    return 1;
}

static int32_t go_on(uint64_t spent, void *userdata) {
    uint64_t *calls = (uint64_t *)userdata;
    dividing_fraction turns;
    (void)spent;
    ++*calls;
    /* A failing call of the library from inside a watcher disturbs nothing. */
    return dividing_angle_parse("no angle", Z, &turns) == DIVIDING_STATUS_OK;
}

void test_watchers(void) {
    const char *const many =
        quick ? "{\"format\":1,\"name\":\"M\",\"features\":{\"equal_divisions\":{\"count\":5000}}}"
              : "{\"format\":1,\"name\":\"M\",\"features\":{\"equal_divisions\":{\"count\":100000}}}";
    dividing_plans *plans = NULL;
    uint64_t spent = 0, calls = 0;
    STATUS(dividing_plans_new_within(WORKSHOP, Z, many, Z, 0, stop_at_once, &spent, &plans),
           DIVIDING_STATUS_CANCELLED, "a watcher that stops");
    CHECK(spent > 0 && plans == NULL, "a watcher that stops");
    STATUS(dividing_plans_new_within(WORKSHOP, Z, NINE_SLOTS, Z, 1, NULL, NULL, &plans),
           DIVIDING_STATUS_WORK_LIMIT, "a limit of one step");
    CHECK(plans == NULL, "a limit of one step");
    STATUS(dividing_plans_new_within(WORKSHOP, Z, many, Z, 0, go_on, &calls, &plans),
           DIVIDING_STATUS_OK, "a watcher that goes on");
    CHECK(calls > 0 && plans != NULL, "a watcher that goes on");
    dividing_plans_free(plans);
}
