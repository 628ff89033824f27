/*
 * Whole tables, change gears, gauge blocks and fits, with the shared vectors.
 */
#include "read.h"

/* Builds a head of one ratio with these plates, each an array of circles, and
 * gears if there are any. */
static dividing_workshop *head_of(const json_value *plates, const json_value *gears) {
    dividing_plate_circle circles[3][12];
    dividing_index_plate sides[3];
    dividing_change_gears change;
    dividing_worm_head head;
    dividing_equipment *piece = NULL;
    const dividing_equipment *pieces[1];
    dividing_workshop *workshop = NULL;
    static const char *const names[] = {"1", "2", "3"};
    uint32_t teeth[24];
    size_t p, c;
    memset(circles, 0, sizeof circles);
    memset(sides, 0, sizeof sides);
    memset(&change, 0, sizeof change);
    memset(&head, 0, sizeof head);
    for (p = 0; p < plates->count && p < 3; p++) {
        const json_value *front = &plates->items[p].items[0];
        for (c = 0; c < front->count && c < 12; c++) {
            circles[p][c].holes = (uint32_t)strtoul(front->items[c].text, NULL, 10);
        }
        sides[p].name = names[p];
        sides[p].circles = circles[p];
        sides[p].circle_count = front->count;
    }
    for (c = 0; gears != NULL && c < gears->count && c < 24; c++) {
        teeth[c] = (uint32_t)strtoul(gears->items[c].text, NULL, 10);
    }
    change.gears = teeth;
    change.gear_count = c;
    head.name = "head";
    head.worm_ratio.numerator = 40;
    head.worm_ratio.denominator = 1;
    head.plates = sides;
    head.plate_count = plates->count;
    head.change_gears = gears == NULL ? NULL : &change;
    STATUS(dividing_equipment_worm_head(&head, &piece), DIVIDING_STATUS_OK, "head");
    pieces[0] = piece;
    STATUS(dividing_workshop_new("w", pieces, 1, &workshop), DIVIDING_STATUS_OK, "workshop");
    dividing_equipment_free(piece);
    return workshop;
}

enum { FIRST = 2, LAST = 400 };

/* The published rows of simple indexing stand in the table; every exact row
 * keeps turns + holes / circle = 40 / N. */
static void simple(const json_value *vectors, const dividing_indexing_table *table) {
    const json_value *cases = json_get(vectors, "cases");
    dividing_simple_columns columns;
    size_t i, published = 0;
    STATUS(dividing_indexing_table_simple(table, 0, &columns), DIVIDING_STATUS_OK, "simple");
    STATUS(dividing_indexing_table_simple(table, 1, &columns), DIVIDING_STATUS_INCONSISTENT,
           "a section of compound indexing");
    STATUS(dividing_indexing_table_simple(table, 9, &columns), DIVIDING_STATUS_NOT_FOUND,
           "section 9");
    CHECK(columns.length == LAST - FIRST + 1, "rows");
    for (i = 0; i < columns.length; i++) {
        uint64_t n = FIRST + i, circle = columns.circle[i];
        bool sums = n * (columns.turns[i] * circle + columns.holes[i]) == 40 * circle;
        CHECK(sums == (columns.exact[i] == 1), "turns + holes / circle = 40 / N");
        CHECK((columns.residual_turns[i] == 0) == (columns.exact[i] == 1), "residual");
    }
    for (i = 0; i < cases->count; i++) {
        const json_value *it = &cases->items[i];
        double n = number_of(it, "divisions");
        if (strcmp(json_text(it, "kind"), "simple_first") == 0 &&
            strcmp(json_text(it, "head"), "three_plates") == 0 && n >= FIRST && n <= LAST) {
            size_t row = (size_t)n - FIRST;
            CHECK(columns.exact[row] == 1 && columns.turns[row] == number_of(it, "turns") &&
                      columns.holes[row] == number_of(it, "holes") &&
                      (columns.holes[row] == 0 || /* then any circle does */
                       columns.circle[row] == number_of(it, "circle")),
                  json_text(it, "id"));
            published++;
        }
    }
    CHECK(published > 20, "published rows");
}

/* What is copied is what stands in the handle; NULL leaves a column out. */
static void copies(const dividing_indexing_table *table) {
    enum { ROWS = LAST - FIRST + 1 };
    static uint32_t circle[ROWS], holes[ROWS];
    static double residual[ROWS];
    static uint16_t driver[ROWS];
    dividing_simple_columns columns;
    dividing_differential_columns gears;
    dividing_simple_places places;
    dividing_differential_places gear_places;
    memset(&places, 0, sizeof places);
    places.capacity = ROWS - 1;
    places.circle = circle;
    circle[0] = 77;
    STATUS(dividing_indexing_table_copy_simple(table, 0, &places),
           DIVIDING_STATUS_BUFFER_TOO_SMALL, "a row short");
    CHECK(circle[0] == 77, "an output touched on failure");
    places.capacity = ROWS;
    places.holes = holes;
    places.residual_turns = residual;
    STATUS(dividing_indexing_table_copy_simple(table, 0, &places), DIVIDING_STATUS_OK, "copy");
    STATUS(dividing_indexing_table_simple(table, 0, &columns), DIVIDING_STATUS_OK, "in place");
    CHECK(memcmp(circle, columns.circle, sizeof circle) == 0, "circle");
    CHECK(memcmp(holes, columns.holes, sizeof holes) == 0, "holes");
    CHECK(memcmp(residual, columns.residual_turns, sizeof residual) == 0, "residual");
    memset(&gear_places, 0, sizeof gear_places);
    gear_places.capacity = ROWS;
    gear_places.drivers[0] = driver;
    STATUS(dividing_indexing_table_copy_differential(table, 2, &gear_places),
           DIVIDING_STATUS_OK, "differential");
    STATUS(dividing_indexing_table_differential(table, 2, &gears), DIVIDING_STATUS_OK,
           "differential in place");
    CHECK(memcmp(driver, gears.drivers[0], sizeof driver) == 0, "first drivers");
}

/* Compound and differential rows obey their equations exactly. */
static void equations(const dividing_indexing_table *table) {
    dividing_compound_columns compound;
    dividing_differential_columns gears;
    size_t i, exact = 0;
    STATUS(dividing_indexing_table_compound(table, 1, &compound), DIVIDING_STATUS_OK,
           "compound");
    for (i = 0; i < compound.length; i++) {
        if (compound.exact[i]) {
            int64_t n = (int64_t)(FIRST + i), a = compound.first_circle[i],
                    b = compound.second_circle[i];
            int64_t sum = compound.whole_turns[i] * a * b + compound.first_holes[i] * b +
                          compound.second_holes[i] * a;
            CHECK(n * sum == 40 * a * b, "w + h1/c1 + h2/c2 = 40/N");
            exact++;
        }
    }
    CHECK(exact > 0, "compound rows");
    STATUS(dividing_indexing_table_differential(table, 2, &gears), DIVIDING_STATUS_OK,
           "differential");
    for (exact = 0, i = 0; i < gears.length; i++) {
        if (gears.exact[i]) {
            /* The plate turns 40 - N * t, made by drivers over driven. */
            int64_t n = (int64_t)(FIRST + i), circle = gears.circle[i], above = 1, below = 1;
            int64_t plate = 40 * circle - n * (gears.turns[i] * circle + gears.holes[i]);
            int p;
            for (p = 0; p < 3; p++) {
                above *= gears.drivers[p][i] == 0 ? 1 : gears.drivers[p][i];
                below *= gears.driven[p][i] == 0 ? 1 : gears.driven[p][i];
            }
            CHECK((plate < 0) == (gears.against[i] == 1), "the sense of the plate");
            CHECK((plate < 0 ? -plate : plate) * below == above * circle, "40 - N * t");
            exact++;
        }
    }
    CHECK(exact > 100, "differential rows");
}

static int32_t stop(uint64_t spent, void *userdata) {
    (void)spent;
    ++*(int *)userdata;
    return 1;
}

static void tables(const char *folder) {
    char *text = NULL, *json = NULL;
    json_value vectors;
    if (vectors_of(folder, "worm.json", &text, &vectors)) {
        const json_value *plates =
            json_get(json_get(json_get(&vectors, "heads"), "three_plates"), "plates");
        dividing_workshop *workshop = head_of(plates, json_get(&vectors, "gears"));
        dividing_indexing_table *table = NULL;
        dividing_exact_table *exact = NULL;
        dividing_table_range range;
        dividing_table_section section, same;
        int asked = 0;
        size_t i;
        STATUS(dividing_indexing_table_new(workshop, FIRST, LAST, 0, NULL, NULL, &table),
               DIVIDING_STATUS_OK, "table");
        STATUS(dividing_exact_table_new(workshop, FIRST, LAST, 0, NULL, NULL, &exact),
               DIVIDING_STATUS_OK, "exact table");
        STATUS(dividing_indexing_table_covers(table, &range), DIVIDING_STATUS_OK, "range");
        CHECK(range.complete && range.section_count == 3 && range.row_count == LAST - FIRST + 1,
              "range");
        for (i = 0; i < range.section_count; i++) {
            STATUS(dividing_indexing_table_section(table, i, &section), DIVIDING_STATUS_OK,
                   "section");
            STATUS(dividing_exact_table_section(exact, i, &same), DIVIDING_STATUS_OK,
                   "exact section");
            CHECK(section.method == same.method &&
                      memcmp(section.exact, same.exact, range.row_count) == 0,
                  "both tables agree");
        }
        simple(&vectors, table);
        copies(table);
        equations(table);
        STATUS(dividing_indexing_table_json(table, &json), DIVIDING_STATUS_OK, "JSON");
        dividing_text_free(json);
        dividing_indexing_table_free(table);
        dividing_exact_table_free(exact);
        table = NULL;
        exact = NULL;
        STATUS(dividing_exact_table_new(workshop, 0, 5, 0, NULL, NULL, &exact),
               DIVIDING_STATUS_OUT_OF_RANGE, "0 divisions");
        CHECK(strcmp(dividing_last_error_field(), "first") == 0, "its field");
        /* One that is stopped says that it is incomplete. */
        STATUS(dividing_indexing_table_new(workshop, 2, 100000, 0, stop, &asked, &table),
               DIVIDING_STATUS_OK, "stopped");
        STATUS(dividing_indexing_table_covers(table, &range), DIVIDING_STATUS_OK, "range");
        CHECK(asked > 0 && !range.complete, "stopped");
        dividing_indexing_table_free(table);
        dividing_workshop_free(workshop);
    }
    json_free(&vectors);
    free(text);
}

/* Whether a train has these gears on one side, in any order. */
static bool same_gears(const uint16_t *side, uint32_t pairs, const json_value *gears) {
    size_t i, j;
    bool used[3] = {false};
    if (pairs != gears->count) {
        return false;
    }
    for (i = 0; i < pairs; i++) {
        bool found = false;
        for (j = 0; j < pairs && !found; j++) {
            if (!used[j] && side[i] == strtoul(gears->items[j].text, NULL, 10)) {
                used[j] = found = true;
            }
        }
        if (!found) {
            return false;
        }
    }
    return true;
}

static void published_train(const json_value *check, const dividing_gears *gears) {
    const char *id = json_text(check, "id");
    const json_value *inputs = json_get(check, "inputs");
    dividing_fraction wanted = fraction_of(json_text(json_get(check, "expected"), "ratio"));
    dividing_fraction ratio;
    dividing_trains *trains = NULL;
    dividing_trains_result result;
    dividing_nearest_train nearest;
    STATUS(dividing_trains_new(gears, wanted, 0, NULL, NULL, &trains), DIVIDING_STATUS_OK, id);
    STATUS(dividing_trains_found(trains, &result), DIVIDING_STATUS_OK, id);
    if (trains != NULL) {
        dividing_train *all = (dividing_train *)malloc((result.count + 1) * sizeof *all);
        bool among = false;
        size_t i;
        STATUS(dividing_trains_copy(trains, all, result.count), DIVIDING_STATUS_OK, id);
        for (i = 0; i < result.count; i++) {
            STATUS(dividing_train_ratio(&all[i], &ratio), DIVIDING_STATUS_OK, id);
            CHECK(ratio.numerator == wanted.numerator && ratio.denominator == wanted.denominator,
                  id);
            among = among ||
                    (same_gears(all[i].drivers, all[i].pairs, json_get(inputs, "drivers")) &&
                     same_gears(all[i].driven, all[i].pairs, json_get(inputs, "driven")));
        }
        CHECK(among && result.complete, id);
        free(all);
    }
    dividing_trains_free(trains);
    STATUS(dividing_train_nearest(gears, wanted, 0, NULL, NULL, &nearest), DIVIDING_STATUS_OK,
           id);
    CHECK(nearest.exact && nearest.error_ppm == 0, id);
}

static void gearing(const char *folder) {
    static const uint32_t head_gears[] = {24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100};
    dividing_gears gears;
    char *text = NULL;
    json_value vectors;
    size_t i, leads = 0;
    dividing_train none;
    dividing_fraction ratio;
    memset(&gears, 0, sizeof gears);
    gears.gears = head_gears;
    gears.gear_count = sizeof head_gears / sizeof head_gears[0];
    memset(&none, 0, sizeof none);
    STATUS(dividing_train_ratio(&none, &ratio), DIVIDING_STATUS_OUT_OF_RANGE, "no gears");
    none.pairs = 4;
    STATUS(dividing_train_ratio(&none, &ratio), DIVIDING_STATUS_OUT_OF_RANGE, "four pairs");
    if (vectors_of(folder, "gearing.json", &text, &vectors)) {
        const json_value *checks = json_get(&vectors, "checks");
        for (i = 0; i < checks->count; i++) {
            const json_value *check = &checks->items[i];
            const json_value *inputs = json_get(check, "inputs");
            if (strcmp(json_text(check, "kind"), "differential_train") == 0) {
                published_train(check, &gears);
            } else if (strcmp(json_text(check, "kind"), "lead") == 0 &&
                       strcmp(json_text(inputs, "screw_pitch"), "1/4 in") == 0 &&
                       strcmp(json_text(inputs, "worm_ratio"), "40") == 0) {
                dividing_helix helix;
                dividing_lead lead;
                memset(&helix, 0, sizeof helix);
                helix.worm_ratio = fraction_of("40");
                helix.screw_pitch_mm = fraction_of("127/20");
                helix.lead_mm = fraction_of(json_text(json_get(check, "expected"), "lead_mm"));
                helix.diameter_mm = 50;
                STATUS(dividing_lead_gearing(&gears, &helix, 0, NULL, NULL, &lead),
                       DIVIDING_STATUS_OK, json_text(check, "id"));
                CHECK(lead.exact &&
                          lead.attained_lead_mm.numerator == helix.lead_mm.numerator &&
                          lead.attained_lead_mm.denominator == helix.lead_mm.denominator,
                      json_text(check, "id"));
                /* tan(swivel) = pi * diameter / lead. */
                CHECK(within(tan(lead.swivel_deg * 3.14159265358979323846 / 180) *
                                 (double)helix.lead_mm.numerator /
                                 (double)helix.lead_mm.denominator,
                             3.14159265358979323846 * 50, 1e-9),
                      json_text(check, "id"));
                leads++;
            }
        }
        CHECK(leads > 0, "leads");
    }
    json_free(&vectors);
    free(text);
}

static void blocks(const char *folder) {
    char *text = NULL;
    json_value vectors;
    size_t i, c;
    CHECK(within(dividing_sine_bar_height_mm(100, 30), 50, 1e-9), "sin 30 degrees is 1/2");
    CHECK(within(dividing_sine_bar_angle_deg(100, 50), 30, 1e-9), "and back");
    CHECK(isnan(dividing_sine_bar_angle_deg(100, 101)), "a height above the bar");
    CHECK(isnan(dividing_sine_bar_height_mm((double)NAN, 30)), "a bar of NaN");
    if (vectors_of(folder, "gauge_blocks.json", &text, &vectors)) {
        const json_value *checks = json_get(&vectors, "checks");
        for (i = 0; i < checks->count; i++) {
            const json_value *check = &checks->items[i];
            const json_value *inputs = json_get(check, "inputs");
            const json_value *expected = json_get(check, "expected");
            const char *id = json_text(check, "id");
            if (strcmp(json_text(check, "kind"), "stack") == 0) {
                dividing_block_set *set = NULL;
                dividing_stacked_blocks stack;
                dividing_optional_length none = {0, 0};
                double height = 0;
                STATUS(dividing_length_parse(json_text(inputs, "height"), Z, &height),
                       DIVIDING_STATUS_OK, id);
                STATUS(dividing_block_set_named(json_text(inputs, "set"), &set),
                       DIVIDING_STATUS_OK, id);
                STATUS(dividing_block_stack(set, height, 0, none, 0, NULL, NULL, &stack),
                       DIVIDING_STATUS_OK, id);
                CHECK(stack.count <= json_get(expected, "blocks_units")->count &&
                          stack.deviation_units == 0 && within(stack.height_mm, height, 1e-9),
                      id);
                dividing_block_set_free(set);
            } else if (strcmp(json_text(check, "kind"), "angle_stack") == 0) {
                dividing_fraction angle = {0, 1}, exact = {0, 1};
                dividing_stacked_angle_blocks stack;
                uint32_t plus[16], minus[16];
                int64_t seconds = 0;
                size_t published = json_get(expected, "plus_arcsec")->count +
                                   json_get(expected, "minus_arcsec")->count;
                STATUS(dividing_angle_parse(json_text(inputs, "angle"), Z, &angle),
                       DIVIDING_STATUS_OK, id);
                STATUS(dividing_angle_block_stack(json_text(inputs, "set"), NULL, 0, angle,
                                                  exact, 0, NULL, NULL, 16, plus, minus, &stack),
                       DIVIDING_STATUS_OK, id);
                for (c = 0; c < stack.plus_count; c++) {
                    seconds += plus[c];
                }
                for (c = 0; c < stack.minus_count; c++) {
                    seconds -= minus[c];
                }
                CHECK(seconds * angle.denominator == angle.numerator * 1296000, id);
                CHECK(stack.plus_count + stack.minus_count <= published, id);
            }
        }
    }
    json_free(&vectors);
    free(text);
}

static void fits(const char *folder) {
    char *text = NULL;
    json_value vectors;
    dividing_fit fit, parsed;
    size_t i, read = 0;
    if (vectors_of(folder, "iso_286.json", &text, &vectors)) {
        for (i = 0; i < vectors.count; i++) {
            const json_value *it = &vectors.items[i];
            dividing_size_limits limits;
            if (json_get(it, "class") == NULL) {
                continue;
            }
            STATUS(dividing_tolerance_class_limits(json_text(it, "class"),
                                                   number_of(it, "up_to_mm"), &limits),
                   DIVIDING_STATUS_OK, json_text(it, "id"));
            CHECK(within(limits.lower_um, number_of(it, "lower_um"), 1e-9) &&
                      within(limits.upper_um, number_of(it, "upper_um"), 1e-9),
                  json_text(it, "id"));
            read++;
        }
        CHECK(read > 10, "classes");
    }
    json_free(&vectors);
    free(text);
    STATUS(dividing_fit_parse("6 H7/g6", Z, &parsed), DIVIDING_STATUS_OK, "6 H7/g6");
    STATUS(dividing_fit_of("H7", "g6", 6, &fit), DIVIDING_STATUS_OK, "H7/g6 on 6");
    /* H7 on 6 mm is 0 to +12, g6 is -12 to -4 micrometres. */
    CHECK(within(fit.least_clearance_mm, 0.004, 1e-9) &&
              within(fit.greatest_clearance_mm, 0.024, 1e-9),
          "clearance");
    CHECK(memcmp(&fit, &parsed, sizeof fit) == 0, "both ways");
    STATUS(dividing_fit_of("g6", "H7", 6, &fit), DIVIDING_STATUS_INCONSISTENT, "g6/H7");
    STATUS(dividing_fit_parse("6 parsnips", Z, &fit), DIVIDING_STATUS_UNREADABLE_TEXT, "words");
}

void test_tables(const char *folder) {
    tables(folder);
    gearing(folder);
    blocks(folder);
    fits(folder);
}
