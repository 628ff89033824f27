/*
 * Tables of moves to be repeated, against the definitions: every circle is tried
 * here, and every number of divisions a move.
 */
#include "read.h"

enum { FIRST = 2, LAST = 130, ROWS = LAST - FIRST + 1, RATIO = 40 };

static const uint32_t CIRCLES[] = {37, 39, 41, 43, 47, 49};
enum { CIRCLE_COUNT = sizeof CIRCLES / sizeof CIRCLES[0] };

static dividing_workshop *head(void) {
    static const uint32_t gears[] = {24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100};
    dividing_plate_circle circles[CIRCLE_COUNT];
    dividing_index_plate plate;
    dividing_change_gears change;
    dividing_worm_head fields;
    dividing_equipment *piece = NULL;
    const dividing_equipment *pieces[1];
    dividing_workshop *workshop = NULL;
    size_t i;
    memset(circles, 0, sizeof circles);
    memset(&plate, 0, sizeof plate);
    memset(&change, 0, sizeof change);
    memset(&fields, 0, sizeof fields);
    for (i = 0; i < CIRCLE_COUNT; i++) {
        circles[i].holes = CIRCLES[i];
    }
    plate.name = "3";
    plate.circles = circles;
    plate.circle_count = CIRCLE_COUNT;
    change.gears = gears;
    change.gear_count = sizeof gears / sizeof gears[0];
    fields.name = "head";
    fields.worm_ratio.numerator = RATIO;
    fields.worm_ratio.denominator = 1;
    fields.plates = &plate;
    fields.plate_count = 1;
    fields.change_gears = &change;
    STATUS(dividing_equipment_worm_head(&fields, &piece), DIVIDING_STATUS_OK, "head");
    pieces[0] = piece;
    STATUS(dividing_workshop_new("w", pieces, 1, &workshop), DIVIDING_STATUS_OK, "workshop");
    dividing_equipment_free(piece);
    return workshop;
}

static uint32_t common(uint32_t a, uint32_t b) {
    return b == 0 ? a : common(b, a % b);
}

/* How near a move of k of n divisions comes on the best circle, in turns. */
static double nearest(uint32_t k, uint32_t n) {
    double best = 1;
    size_t i;
    for (i = 0; i < CIRCLE_COUNT; i++) {
        const double spaces = (double)RATIO * k * CIRCLES[i] / n;
        const double whole = floor(spaces + 0.5);
        const double off = fabs(whole - spaces) / CIRCLES[i] / RATIO;
        if (whole > 0 && off < best) {
            best = off;
        }
    }
    return best;
}

static void errors_follow(const dividing_stepping_table *table, size_t section) {
    dividing_stepping_columns errors;
    dividing_table_section about;
    size_t i;
    STATUS(dividing_stepping_table_errors(table, section, &errors), DIVIDING_STATUS_OK, "errors");
    STATUS(dividing_stepping_table_section(table, section, &about), DIVIDING_STATUS_OK,
           "section");
    for (i = 0; i < errors.length; i++) {
        const double n = (double)(FIRST + i), each = errors.per_division_turns[i];
        CHECK((each == 0) == (about.exact[i] == 1), "exact where nothing is left");
        CHECK(within(errors.worst_turns[i], fabs(each) * (n - 1), 1e-15), "the last is worst");
        CHECK(within(errors.closing_turns[i], each * n, 1e-15), "what the turn closes off");
    }
}

static void simple(const dividing_stepping_table *table) {
    dividing_simple_columns moves;
    dividing_stepping_columns errors;
    dividing_several_divisions_columns several;
    size_t i;
    STATUS(dividing_stepping_table_simple(table, 0, &moves), DIVIDING_STATUS_OK, "simple");
    STATUS(dividing_stepping_table_errors(table, 0, &errors), DIVIDING_STATUS_OK, "errors");
    STATUS(dividing_stepping_table_several_divisions(table, 0, &several), DIVIDING_STATUS_OK,
           "several divisions");
    CHECK(moves.length == ROWS && errors.length == ROWS && several.length == ROWS, "rows");
    for (i = 0; i < ROWS; i++) {
        const uint32_t n = FIRST + (uint32_t)i;
        const double crank = moves.turns[i] + (double)moves.holes[i] / moves.circle[i];
        const double by_several =
            several.turns[i] + (double)several.holes[i] / several.circle[i];
        double best = 1;
        uint32_t k;
        CHECK(within(errors.per_division_turns[i], crank / RATIO - 1.0 / n, 1e-15),
              "made less wanted");
        CHECK(within(fabs(errors.per_division_turns[i]), nearest(1, n), 1e-15),
              "no circle is nearer");
        for (k = 1; k < n; k++) {
            if (common(k, n) == 1 && nearest(k, n) < best) {
                best = nearest(k, n);
            }
        }
        CHECK(common(several.divisions[i], n) == 1, "every place is visited");
        CHECK(within(several.per_move_turns[i],
                     by_several / RATIO - (double)several.divisions[i] / n, 1e-14),
              "made less wanted");
        CHECK(within(fabs(several.per_move_turns[i]), best, 1e-14), "no move is nearer");
        CHECK(within(several.closing_turns[i], several.per_move_turns[i] * n, 1e-13), "closing");
        CHECK(within(several.worst_turns[i], fabs(several.per_move_turns[i]) * (n - 1), 1e-13),
              "worst");
    }
}

static void other_methods(const dividing_stepping_table *table) {
    dividing_compound_columns compound;
    dividing_differential_columns gears;
    dividing_stepping_columns errors;
    size_t i;
    int pair;
    STATUS(dividing_stepping_table_compound(table, 1, &compound), DIVIDING_STATUS_OK, "compound");
    STATUS(dividing_stepping_table_errors(table, 1, &errors), DIVIDING_STATUS_OK, "errors");
    for (i = 0; i < ROWS; i++) {
        const double first = (double)compound.first_holes[i] / compound.first_circle[i];
        const double second = (double)compound.second_holes[i] / compound.second_circle[i];
        CHECK(within(errors.per_division_turns[i],
                     (compound.whole_turns[i] + first + second) / RATIO - 1.0 / (double)(FIRST + i),
                     1e-14),
              "both moves together");
    }
    STATUS(dividing_stepping_table_differential(table, 2, &gears), DIVIDING_STATUS_OK,
           "differential");
    STATUS(dividing_stepping_table_errors(table, 2, &errors), DIVIDING_STATUS_OK, "errors");
    for (i = 0; i < ROWS; i++) {
        const double crank = (double)gears.turns[i] + (double)gears.holes[i] / gears.circle[i];
        double train = 1;
        for (pair = 0; pair < 3; pair++) {
            if (gears.drivers[pair][i] > 0) {
                train *= (double)gears.drivers[pair][i] / gears.driven[pair][i];
            }
        }
        if (gears.drivers[0][i] == 0) {
            train = 0;
        }
        CHECK(within(errors.per_division_turns[i],
                     crank / (RATIO - (gears.against[i] == 1 ? -train : train)) -
                         1.0 / (double)(FIRST + i),
                     1e-13),
              "the crank and the plate that turns under it");
    }
}

static void copies(const dividing_stepping_table *table) {
    static double worst[ROWS];
    static uint32_t divisions[ROWS], circle[ROWS];
    static int32_t whole[ROWS];
    static uint16_t driver[ROWS];
    dividing_stepping_columns errors;
    dividing_several_divisions_columns several;
    dividing_simple_columns simple_moves;
    dividing_compound_columns compound;
    dividing_differential_columns gears;
    dividing_stepping_places error_places;
    dividing_several_divisions_places several_places;
    dividing_simple_places simple_places;
    dividing_compound_places compound_places;
    dividing_differential_places gear_places;
    memset(&error_places, 0, sizeof error_places);
    memset(&several_places, 0, sizeof several_places);
    memset(&simple_places, 0, sizeof simple_places);
    memset(&compound_places, 0, sizeof compound_places);
    memset(&gear_places, 0, sizeof gear_places);
    error_places.capacity = ROWS - 1;
    error_places.worst_turns = worst;
    worst[0] = 77;
    STATUS(dividing_stepping_table_copy_errors(table, 0, &error_places),
           DIVIDING_STATUS_BUFFER_TOO_SMALL, "a row short");
    CHECK(worst[0] == 77, "an output touched on failure");
    error_places.capacity = several_places.capacity = simple_places.capacity = ROWS;
    compound_places.capacity = gear_places.capacity = ROWS;
    several_places.divisions = divisions;
    simple_places.circle = circle;
    compound_places.whole_turns = whole;
    gear_places.drivers[0] = driver;
    STATUS(dividing_stepping_table_copy_errors(table, 0, &error_places), DIVIDING_STATUS_OK,
           "errors");
    STATUS(dividing_stepping_table_copy_several_divisions(table, 0, &several_places),
           DIVIDING_STATUS_OK, "several divisions");
    STATUS(dividing_stepping_table_copy_simple(table, 0, &simple_places), DIVIDING_STATUS_OK,
           "simple");
    STATUS(dividing_stepping_table_copy_compound(table, 1, &compound_places), DIVIDING_STATUS_OK,
           "compound");
    STATUS(dividing_stepping_table_copy_differential(table, 2, &gear_places), DIVIDING_STATUS_OK,
           "differential");
    STATUS(dividing_stepping_table_errors(table, 0, &errors), DIVIDING_STATUS_OK, "in place");
    STATUS(dividing_stepping_table_several_divisions(table, 0, &several), DIVIDING_STATUS_OK,
           "in place");
    STATUS(dividing_stepping_table_simple(table, 0, &simple_moves), DIVIDING_STATUS_OK,
           "in place");
    STATUS(dividing_stepping_table_compound(table, 1, &compound), DIVIDING_STATUS_OK, "in place");
    STATUS(dividing_stepping_table_differential(table, 2, &gears), DIVIDING_STATUS_OK,
           "in place");
    CHECK(memcmp(worst, errors.worst_turns, sizeof worst) == 0, "worst");
    CHECK(memcmp(divisions, several.divisions, sizeof divisions) == 0, "divisions");
    CHECK(memcmp(circle, simple_moves.circle, sizeof circle) == 0, "circle");
    CHECK(memcmp(whole, compound.whole_turns, sizeof whole) == 0, "whole turns");
    CHECK(memcmp(driver, gears.drivers[0], sizeof driver) == 0, "first drivers");
}

static int32_t stop(uint64_t spent, void *userdata) {
    (void)spent;
    (void)userdata;
    return 1;
}

void test_moves(void) {
    dividing_workshop *workshop = head();
    dividing_stepping_table *table = NULL;
    dividing_several_divisions_columns several;
    dividing_table_range range;
    char *json = NULL;
    size_t i;
    STATUS(dividing_stepping_table_new(workshop, FIRST, LAST, UINT64_MAX, NULL, NULL, &table),
           DIVIDING_STATUS_OK, "table");
    STATUS(dividing_stepping_table_covers(table, &range), DIVIDING_STATUS_OK, "range");
    CHECK(range.complete && range.section_count == 3 && range.row_count == ROWS, "range");
    for (i = 0; i < range.section_count; i++) {
        errors_follow(table, i);
    }
    simple(table);
    other_methods(table);
    copies(table);
    STATUS(dividing_stepping_table_several_divisions(table, 1, &several),
           DIVIDING_STATUS_INCONSISTENT, "of compound indexing");
    STATUS(dividing_stepping_table_several_divisions(table, 3, &several),
           DIVIDING_STATUS_NOT_FOUND, "section 3");
    STATUS(dividing_stepping_table_json(table, &json), DIVIDING_STATUS_OK, "JSON");
    CHECK(strstr(json, "\"several_divisions\"") != NULL, "JSON");
    dividing_text_free(json);
    dividing_stepping_table_free(table);
    table = NULL;
    STATUS(dividing_stepping_table_new(workshop, 2, 100000, 0, stop, NULL, &table),
           DIVIDING_STATUS_OK, "stopped");
    STATUS(dividing_stepping_table_covers(table, &range), DIVIDING_STATUS_OK, "range");
    CHECK(!range.complete, "stopped");
    dividing_stepping_table_free(table);
    dividing_workshop_free(workshop);
}
