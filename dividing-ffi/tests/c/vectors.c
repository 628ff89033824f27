/*
 * The shared vectors, seen from C: exact fields must be equal, digit by digit.
 */
#include "json.h"
#include "suite.h"

#include <inttypes.h>
#include <stdio.h>

/* Checks that a text of the library is as wanted, and frees it. */
static void check_text(dividing_status status, char **found, const char *wanted,
                       const char *about) {
    STATUS(status, DIVIDING_STATUS_OK, about);
    if (status == DIVIDING_STATUS_OK) {
        char words[500];
        snprintf(words, sizeof words, "%s: found %.100s, wanted %.100s", about, *found, wanted);
        CHECK(strcmp(*found, wanted) == 0, words);
        dividing_text_free(*found);
        *found = NULL;
    }
}

/* "n/d" as the library writes it: "n/d turn", or "n turn" for whole turns. */
static void turn_text(const char *fraction, char *out, size_t size) {
    const char *slash = strchr(fraction, '/');
    if (slash == NULL || strcmp(slash, "/1") == 0) {
        int digits = slash == NULL ? (int)strlen(fraction) : (int)(slash - fraction);
        snprintf(out, size, "%.*s turn", digits, fraction);
    } else {
        snprintf(out, size, "%s turn", fraction);
    }
}

/* Checks a fraction against "n/d": its digits, or the overflow where 64 bits
 * do not hold them. */
static void check_fraction(dividing_status status, dividing_fraction found,
                           const char *wanted, const char *about) {
    const char *slash = strchr(wanted, '/');
    size_t digits = slash == NULL ? strlen(wanted) : (size_t)(slash - wanted);
    char text[100];
    if (digits > 19 || (slash != NULL && strlen(slash) > 19)) {
        STATUS(status, DIVIDING_STATUS_OVERFLOW, about);
        return;
    }
    STATUS(status, DIVIDING_STATUS_OK, about);
    snprintf(text, sizeof text, "%" PRId64 "/%" PRId64, found.numerator, found.denominator);
    if (slash == NULL) {
        text[strlen(text) - 2] = '\0';
    }
    CHECK(strcmp(text, wanted) == 0, about);
}

/* Reads a file of vectors; the text must outlive the value. */
static bool read_vectors(const char *folder, const char *name, char **text,
                         json_value *value) {
    size_t length;
    bool good;
    *text = read_file(folder, name, &length);
    good = *text != NULL && json_read(*text, length, value);
    CHECK(good, name);
    return good;
}

static size_t count_of(const json_value *list) {
    return list == NULL ? 0 : list->count;
}

static void check_angle(const json_value *vector) {
    const char *id = json_text(vector, "id");
    const json_value *text = json_get(vector, "text");
    const char *turns = json_text(vector, "turns");
    dividing_fraction fraction = {0, 0};
    char wanted[100];
    char *out = NULL;
    dividing_status status;

    status = dividing_angle_parse(text->text, text->text_length, &fraction);
    check_fraction(status, fraction, turns, id);
    if (status == DIVIDING_STATUS_OK) {
        check_text(dividing_angle_format(fraction, DIVIDING_STYLE_EXACT, 0, &out), &out,
                   json_text(vector, "printed"), id);
    }
    turn_text(turns, wanted, sizeof wanted);
    check_text(dividing_angle_convert(text->text, text->text_length,
                                      DIVIDING_STYLE_FRACTION_OF_TURN, 0, &out),
               &out, wanted, id);
    check_text(dividing_angle_convert(text->text, text->text_length, DIVIDING_STYLE_EXACT, 0,
                                      &out),
               &out, json_text(vector, "printed"), id);
    check_text(dividing_angle_convert(text->text, DIVIDING_NUL_ENDED,
                                      DIVIDING_STYLE_DECIMAL_DEGREES, 4, &out),
               &out, json_text(vector, "decimal_degrees_4"), id);
    check_text(dividing_angle_convert(text->text, text->text_length,
                                      DIVIDING_STYLE_DEGREES_MINUTES_SECONDS, 1, &out),
               &out, json_text(vector, "degrees_minutes_seconds_1"), id);
}

static void check_nearest(const json_value *vector) {
    const char *id = json_text(vector, "id");
    const char *turns = json_text(vector, "turns");
    const char *slash = strchr(turns, '/');
    const int64_t most = strtoll(json_text(vector, "max_denominator"), NULL, 10);
    char text[100], wanted[100];
    char *out = NULL;

    CHECK(slash != NULL && strlen(json_text(vector, "max_denominator")) < 19, id);
    turn_text(turns, text, sizeof text);
    turn_text(json_text(vector, "nearest"), wanted, sizeof wanted);
    check_text(dividing_angle_nearest_text(text, DIVIDING_NUL_ENDED, most, &out), &out, wanted,
               id);
    /* The call with numbers too, where 64 bits hold the angle. */
    if (slash != NULL && slash - turns < 19 && strlen(slash + 1) < 19) {
        dividing_fraction angle, found = {0, 0};
        dividing_status status;
        angle.numerator = strtoll(turns, NULL, 10);
        angle.denominator = strtoll(slash + 1, NULL, 10);
        status = dividing_angle_nearest(angle, most, &found);
        check_fraction(status, found, json_text(vector, "nearest"), id);
    }
}

void test_angle_vectors(const char *folder) {
    char *text;
    json_value vectors;
    size_t i;
    if (read_vectors(folder, "angles.json", &text, &vectors)) {
        const json_value *cases = json_get(&vectors, "cases");
        const json_value *refused = json_get(&vectors, "refused");
        const json_value *nearest = json_get(&vectors, "nearest");
        CHECK(count_of(cases) > 0 && count_of(refused) > 0 && count_of(nearest) > 0,
              "angles.json");
        for (i = 0; i < count_of(cases); i++) {
            check_angle(&cases->items[i]);
        }
        for (i = 0; i < count_of(refused); i++) {
            const json_value *vector = &refused->items[i];
            const json_value *bad = json_get(vector, "text");
            dividing_fraction untouched = {-7, -7};
            dividing_status status =
                dividing_angle_parse(bad->text, bad->text_length, &untouched);
            CHECK(strcmp(dividing_status_name(status), json_text(vector, "kind")) == 0,
                  json_text(vector, "id"));
            CHECK(untouched.numerator == -7 && untouched.denominator == -7,
                  "an output touched on failure");
        }
        for (i = 0; i < count_of(nearest); i++) {
            check_nearest(&nearest->items[i]);
        }
    }
    json_free(&vectors);
    free(text);
}

static const char *const KIND_NAMES[] = {
    "", "hole", "hole_at_station", "face_down", "faces_in_vee", "bar_on_pins", "crank",
    "reading"};
static const char *const BAR_NAMES[] = {"", "level_above", "level_below", "upright_right",
                                        "upright_left"};

/* Whether a field of the record is what the JSON of the setting says. */
static bool field_agrees(const dividing_setting *record, const json_value *field) {
    const char *key = field->key;
    int64_t number = field->kind == JSON_NUMBER ? strtoll(field->text, NULL, 10) : -1;
    if (strcmp(key, "circle") == 0) return record->circle == number;
    if (strcmp(key, "hole") == 0) return record->hole == number;
    if (strcmp(key, "station") == 0) return record->station == number;
    if (strcmp(key, "face") == 0) return record->face == number;
    if (strcmp(key, "left_face") == 0) return record->left_face == number;
    if (strcmp(key, "right_face") == 0) return record->right_face == number;
    if (strcmp(key, "first_pin") == 0) return record->first_pin == number;
    if (strcmp(key, "second_pin") == 0) return record->second_pin == number;
    if (strcmp(key, "span") == 0) return record->span == number;
    if (strcmp(key, "plate") == 0) return record->plate == number;
    if (strcmp(key, "turns") == 0) return record->turns == number;
    if (strcmp(key, "graduation") == 0) return record->graduation == number;
    if (strcmp(key, "back") == 0) {
        return field->kind == JSON_BOOL && record->back == (field->truth ? 1u : 0u);
    }
    if (strcmp(key, "bar") == 0) {
        return field->kind == JSON_STRING && strcmp(BAR_NAMES[record->bar], field->text) == 0;
    }
    if (strcmp(key, "table") == 0) {
        dividing_fraction turns;
        return field->kind == JSON_STRING &&
               dividing_angle_parse(field->text, field->text_length, &turns) ==
                   DIVIDING_STATUS_OK &&
               turns.numerator == record->table.numerator &&
               turns.denominator == record->table.denominator;
    }
    return false;
}

static void check_setting(const dividing_plans *plans, size_t step, const json_value *wanted,
                          const char *id) {
    dividing_setting record;
    char *text = NULL;
    json_value found;
    size_t i;
    STATUS(dividing_plans_step_setting_json(plans, 0, step, &text), DIVIDING_STATUS_OK, id);
    if (text == NULL) {
        return;
    }
    CHECK(json_read(text, strlen(text), &found) && json_equal(&found, wanted), id);
    json_free(&found);
    dividing_text_free(text);

    STATUS(dividing_plans_step_setting(plans, 0, step, &record), DIVIDING_STATUS_OK, id);
    CHECK(wanted->count == 1 && record.kind > 0 &&
              strcmp(KIND_NAMES[record.kind], wanted->items[0].key) == 0,
          id);
    for (i = 0; i < wanted->items[0].count; i++) {
        CHECK(field_agrees(&record, &wanted->items[0].items[i]), id);
    }
    text = NULL;
    STATUS(dividing_plans_step_setting_text(plans, 0, step, &text), DIVIDING_STATUS_OK, id);
    CHECK(text != NULL && text[0] != '\0', id);
    dividing_text_free(text);
}

static void check_plan(const json_value *vector) {
    static const char *const verdicts[] = {"pass", "no_tolerance", "not_proven", "fail"};
    const char *id = json_text(vector, "id");
    const json_value *workshop = json_get(vector, "workshop");
    const json_value *job = json_get(vector, "job");
    const json_value *expected = json_get(vector, "expected");
    const json_value *exact = json_get(expected, "exact");
    const json_value *verdict = json_get(expected, "verdict");
    const json_value *settings = json_get(expected, "settings");
    const json_value *attained = json_get(expected, "attained");
    dividing_plans *plans = NULL;
    dividing_plan plan;
    dividing_fraction fraction = {0, 0};
    dividing_status status;
    char wanted[100];
    char *text = NULL;
    size_t i;

    STATUS(dividing_plans_new(workshop->source, workshop->source_length, job->source,
                              job->source_length, &plans),
           DIVIDING_STATUS_OK, id);
    if (plans == NULL) {
        return;
    }
    STATUS(dividing_plans_get(plans, 0, &plan), DIVIDING_STATUS_OK, id);
    CHECK(strcmp(plan.equipment, json_text(expected, "equipment")) == 0, id);
    CHECK(exact != NULL && exact->kind == JSON_BOOL && exact->truth == plan.exact, id);
    if (verdict != NULL) {
        CHECK(strcmp(verdicts[plan.verdict], verdict->text) == 0, id);
    }
    status = dividing_plans_largest_residual(plans, 0, &fraction);
    check_fraction(status, fraction, json_text(expected, "largest_residual"), id);
    turn_text(json_text(expected, "largest_residual"), wanted, sizeof wanted);
    check_text(dividing_plans_largest_residual_text(plans, 0, &text), &text, wanted, id);

    CHECK(count_of(settings) <= plan.step_count && count_of(attained) <= plan.step_count, id);
    for (i = 0; i < count_of(settings); i++) {
        check_setting(plans, i, &settings->items[i], id);
    }
    for (i = 0; i < count_of(attained); i++) {
        const char *turns = attained->items[i].text;
        status = dividing_plans_step_attained(plans, 0, i, &fraction);
        check_fraction(status, fraction, turns, id);
        turn_text(turns, wanted, sizeof wanted);
        check_text(dividing_plans_step_attained_text(plans, 0, i, &text), &text, wanted, id);
    }
    dividing_plans_free(plans);
}

void test_plan_vectors(const char *folder) {
    char *text;
    json_value vectors;
    size_t i;
    if (read_vectors(folder, "plans.json", &text, &vectors)) {
        const json_value *cases = json_get(&vectors, "cases");
        CHECK(count_of(cases) > 0, "plans.json");
        for (i = 0; i < count_of(cases); i++) {
            check_plan(&cases->items[i]);
        }
    }
    json_free(&vectors);
    free(text);
}

static dividing_status plan_and_get(const json_value *input) {
    const json_value *workshop = json_get(input, "workshop");
    const json_value *job = json_get(input, "job");
    dividing_plans *plans = NULL;
    dividing_plan plan;
    /* 0 is the usual limit, some seconds of work. */
    const uint64_t work_limit = quick ? 500000 : 0;
    dividing_status status = dividing_plans_new_within(
        workshop->text, workshop->text_length, job->text, job->text_length, work_limit, NULL,
        NULL, &plans);
    if (status == DIVIDING_STATUS_OK) {
        status =
            dividing_plans_get(plans, strtoul(json_text(input, "index"), NULL, 10), &plan);
    }
    dividing_plans_free(plans);
    return status;
}

static void check_error(const json_value *vector) {
    const char *kind = json_text(vector, "kind");
    const char *call = json_text(vector, "call");
    const json_value *input = json_get(vector, "input");
    const json_value *field = json_get(vector, "field");
    int32_t code = (int32_t)strtol(json_text(vector, "code"), NULL, 10);
    dividing_status status = DIVIDING_STATUS_OK;
    dividing_fraction turns;
    double value_mm;

    CHECK(strcmp(dividing_status_name(code), kind) == 0, kind);
    if (strcmp(call, "none") == 0) {
        CHECK(json_text(vector, "why")[0] != '\0', kind);
        return;
    }
    if (input == NULL || (input->text == NULL && input->kind != JSON_OBJECT)) {
        CHECK(false, kind);
        return;
    }
    if (strcmp(call, "angle") == 0) {
        status = dividing_angle_parse(input->text, input->text_length, &turns);
    } else if (strcmp(call, "length") == 0) {
        status = dividing_length_parse(input->text, input->text_length, &value_mm);
    } else if (strcmp(call, "workshop") == 0) {
        status = dividing_workshop_check(input->text, input->text_length);
    } else if (strcmp(call, "job") == 0) {
        status = dividing_job_check(input->text, input->text_length);
    } else if (strcmp(call, "plan") == 0) {
        status = plan_and_get(input);
    } else {
        CHECK(false, call);
    }
    STATUS(status, code, kind);
    /* Where a broken document breaks off is not part of the vectors. */
    if (field != NULL && code != DIVIDING_STATUS_MALFORMED_JSON) {
        CHECK(strcmp(dividing_last_error_field(), field->text) == 0, kind);
    }
}

void test_error_vectors(const char *folder) {
    char *text;
    json_value vectors;
    size_t i;
    if (read_vectors(folder, "errors.json", &text, &vectors)) {
        const json_value *cases = json_get(&vectors, "cases");
        CHECK(count_of(cases) > 0, "errors.json");
        for (i = 0; i < count_of(cases); i++) {
            check_error(&cases->items[i]);
        }
    }
    json_free(&vectors);
    free(text);
}
