/*
 * Patterns, accuracy and inspection, with the shared vectors.
 */
#include "read.h"

static const double ARCSEC = 3.14159265358979323846 / 648000;

/* The worked example of the guide: 5, 6, 7, 8, 9 and 12 divisions from a disc
 * of 100 mm with holes of 6 mm take 37 holes, 24 places on a ring at 44 mm. */
static void patterns(void) {
    static const uint64_t divisions[] = {5, 6, 7, 8, 9, 12};
    static const char *const json =
        "{\"format\":1,\"divisions\":[5,6,7,8,9,12],\"outline\":{\"disc\":{\"diameter\":100}},"
        "\"hole_diameter\":6,\"least_web\":2,\"least_edge_distance\":3}";
    enum { HOLES = 37 };
    uint32_t ring[HOLES], number[HOLES];
    int64_t above[HOLES], below[HOLES];
    double x[HOLES], y[HOLES];
    dividing_plate_brief brief;
    dividing_design *design = NULL, *same = NULL, *small = NULL;
    dividing_pattern *pattern = NULL, *again = NULL;
    dividing_certificate certificate;
    dividing_hole_check check;
    dividing_ring outer;
    dividing_plate_shortfall shortfall;
    dividing_hole_places places;
    dividing_hole_table table;
    dividing_drilling drilling;
    dividing_workshop *workshop = NULL;
    dividing_piece piece;
    char *wanted = NULL, *found = NULL;
    bool fits = false;
    size_t count = 0, i;

    memset(&brief, 0, sizeof brief);
    brief.divisions = divisions;
    brief.division_count = 6;
    brief.outline_mm = 100;
    brief.hole_diameter_mm = 6;
    brief.least_web_mm = 2;
    brief.least_edge_distance_mm = 3;
    STATUS(dividing_design_of(&brief, 0, NULL, NULL, &design), DIVIDING_STATUS_OK, "by calls");
    STATUS(dividing_design_new(json, Z, 0, NULL, NULL, &same), DIVIDING_STATUS_OK, "by JSON");
    STATUS(dividing_design_json(same, &wanted), DIVIDING_STATUS_OK, "JSON");
    STATUS(dividing_design_json(design, &found), DIVIDING_STATUS_OK, "JSON");
    CHECK(wanted != NULL && found != NULL && strcmp(wanted, found) == 0, "calls and JSON");
    dividing_text_free(wanted);
    dividing_text_free(found);
    found = NULL;
    dividing_design_free(same);
    STATUS(dividing_design_fits(design, &fits), DIVIDING_STATUS_OK, "fits");
    STATUS(dividing_design_shortfall(design, &shortfall), DIVIDING_STATUS_NOT_FOUND, "fits");
    STATUS(dividing_design_pattern(design, &pattern), DIVIDING_STATUS_OK, "pattern");
    dividing_design_free(design);
    STATUS(dividing_pattern_certificate(pattern, &certificate), DIVIDING_STATUS_OK, "proof");
    CHECK(fits && certificate.holes == HOLES && certificate.lower_bound == HOLES &&
              certificate.gap == 0 && certificate.complete,
          "37 holes, proved");
    STATUS(dividing_pattern_ring(pattern, 0, &outer), DIVIDING_STATUS_OK, "outer ring");
    CHECK(outer.radius_mm == 44 && outer.places == 24 && outer.hole_count == 16, "outer ring");
    STATUS(dividing_pattern_ring(pattern, 99, &outer), DIVIDING_STATUS_NOT_FOUND, "ring 99");
    STATUS(dividing_pattern_hole_count(pattern, &count), DIVIDING_STATUS_OK, "holes");
    CHECK(count == HOLES, "holes");
    memset(&places, 0, sizeof places);
    places.capacity = HOLES - 1;
    places.x_mm = x;
    x[0] = 77;
    STATUS(dividing_pattern_holes(pattern, &places), DIVIDING_STATUS_BUFFER_TOO_SMALL,
           "a hole short");
    CHECK(x[0] == 77, "an output touched on failure");
    places.capacity = HOLES;
    places.ring = ring;
    places.number = number;
    places.angle_numerator = above;
    places.angle_denominator = below;
    places.y_mm = y;
    STATUS(dividing_pattern_holes(pattern, &places), DIVIDING_STATUS_OK, "holes");
    for (i = 0; i < HOLES; i++) {
        dividing_ring of;
        double turn = 2 * 3.14159265358979323846 * (double)above[i] / (double)below[i];
        STATUS(dividing_pattern_ring(pattern, ring[i], &of), DIVIDING_STATUS_OK, "ring");
        CHECK(within(x[i], of.radius_mm * cos(turn), 1e-9) &&
                  within(y[i], of.radius_mm * sin(turn), 1e-9),
              "coordinates are those of the exact angle");
    }
    STATUS(dividing_pattern_check(pattern, &check), DIVIDING_STATUS_OK, "check");
    CHECK(check.passed && check.duplicates == 0 && check.pairs == HOLES * (HOLES - 1) / 2 &&
              check.least_web_mm >= 2 && isnan(check.least_bore_edge_mm),
          "check");
    table.digits = 3;
    table.inches = 0;
    table.datum = DIVIDING_PLATE_DATUM_CENTRE;
    STATUS(dividing_pattern_csv(pattern, table, &found), DIVIDING_STATUS_OK, "CSV");
    for (count = 0, i = 0; found != NULL && found[i] != '\0'; i++) {
        count += found[i] == '\n';
    }
    CHECK(count == HOLES + 1, "a heading and a line a hole");
    dividing_text_free(found);
    table.digits = 10;
    STATUS(dividing_pattern_csv(pattern, table, &found), DIVIDING_STATUS_OUT_OF_RANGE,
           "10 digits");
    table.digits = 3;
    STATUS(dividing_pattern_hole_table_json(pattern, table, &found), DIVIDING_STATUS_OK,
           "table");
    dividing_text_free(found);
    STATUS(dividing_pattern_check_dimensions_json(pattern, &found), DIVIDING_STATUS_OK,
           "dimensions");
    dividing_text_free(found);
    STATUS(dividing_pattern_svg(pattern, &found), DIVIDING_STATUS_OK, "SVG");
    CHECK(found != NULL && strstr(found, "<svg") != NULL, "SVG");
    dividing_text_free(found);
    STATUS(dividing_pattern_dxf(pattern, 0, &found), DIVIDING_STATUS_OK, "DXF");
    CHECK(found != NULL && strstr(found, "EOF") != NULL, "DXF");
    dividing_text_free(found);
    STATUS(dividing_pattern_dxf(pattern, 2, &found), DIVIDING_STATUS_OUT_OF_RANGE, "unit 2");
    memset(&drilling, 0, sizeof drilling);
    drilling.table = table;
    drilling.clearance_height_mm = 5;
    drilling.depth_mm = 10;
    drilling.feed_mm_per_minute = 80;
    drilling.spindle_rpm = 1200;
    STATUS(dividing_pattern_drill_program(pattern, &drilling, &found), DIVIDING_STATUS_OK,
           "program");
    CHECK(found != NULL && strstr(found, "G81") != NULL, "drilling cycle");
    dividing_text_free(found);
    drilling.depth_mm = 0;
    STATUS(dividing_pattern_drill_program(pattern, &drilling, &found),
           DIVIDING_STATUS_OUT_OF_RANGE, "depth 0");
    found = NULL;
    STATUS(dividing_pattern_json(pattern, &found), DIVIDING_STATUS_OK, "JSON");
    STATUS(dividing_pattern_from_json(found, Z, &again), DIVIDING_STATUS_OK, "and back");
    dividing_pattern_free(again);
    dividing_text_free(found);
    /* The plate is equipment again. */
    STATUS(dividing_pattern_into_workshop(pattern, "new plate", NULL, &workshop),
           DIVIDING_STATUS_OK, "equipment");
    STATUS(dividing_workshop_piece(workshop, 0, &piece), DIVIDING_STATUS_OK, "equipment");
    CHECK(strcmp(piece.name, "new plate") == 0 && strcmp(piece.kind, "direct_plate") == 0,
          "equipment");
    dividing_workshop_free(workshop);
    dividing_pattern_free(pattern);
    pattern = NULL;
    /* The outline that a shortfall names is enough. */
    brief.outline_mm = 40;
    STATUS(dividing_design_of(&brief, 0, NULL, NULL, &small), DIVIDING_STATUS_OK, "40 mm");
    STATUS(dividing_design_fits(small, &fits), DIVIDING_STATUS_OK, "40 mm");
    STATUS(dividing_design_shortfall(small, &shortfall), DIVIDING_STATUS_OK, "40 mm");
    STATUS(dividing_design_pattern(small, &pattern), DIVIDING_STATUS_INCONSISTENT, "40 mm");
    STATUS(dividing_design_shortfall_text(small, &found), DIVIDING_STATUS_OK, "40 mm");
    dividing_text_free(found);
    CHECK(!fits && shortfall.smallest_outline_mm > 40 && pattern == NULL, "40 mm");
    CHECK(isnan(shortfall.largest_pin_mm), "no pin in the brief");
    dividing_design_free(small);
    /* The clearance of hole and pin is kept. */
    brief.pin_diameter.given = 1;
    brief.pin_diameter.mm = 5.98;
    STATUS(dividing_design_of(&brief, 0, NULL, NULL, &small), DIVIDING_STATUS_OK, "a pin");
    STATUS(dividing_design_shortfall(small, &shortfall), DIVIDING_STATUS_OK, "a pin");
    CHECK(within(shortfall.largest_hole_mm - shortfall.largest_pin_mm, 0.02, 1e-9), "a pin");
    brief.pin_diameter.given = 0;
    dividing_design_free(small);
    brief.outline_mm = shortfall.smallest_outline_mm + 1e-6;
    STATUS(dividing_design_of(&brief, 0, NULL, NULL, &small), DIVIDING_STATUS_OK, "enough");
    STATUS(dividing_design_fits(small, &fits), DIVIDING_STATUS_OK, "enough");
    CHECK(fits, "the outline that the shortfall names is enough");
    dividing_design_free(small);
}

/* Student factors against SciPy, from the shared vectors: the coverage factor of
 * a budget with one input. */
static void student_factors(const char *folder) {
    char *text = NULL;
    json_value vectors;
    size_t i, done = 0;
    if (vectors_of(folder, "probability.json", &text, &vectors)) {
        for (i = 0; i < vectors.count; i++) {
            const json_value *it = &vectors.items[i];
            char model[400];
            dividing_budget *budget = NULL;
            dividing_budget_figures result;
            double wanted = number_of(it, "value");
            if (strcmp(json_text(it, "what"), "student_factor") != 0) {
                continue; /* the other figures have no function of their own in C */
            }
            if (strchr(json_get(it, "degrees_of_freedom")->text, '.') != NULL &&
                fmod(number_of(it, "degrees_of_freedom"), 1) > 0) {
                continue; /* a budget goes down to a whole number: JCGM 100:2008, G.4.1 */
            }
            snprintf(model, sizeof model,
                     "{\"quantity\":\"q\",\"unit\":\"u\",\"estimate\":0,\"coverage\":{"
                     "\"probability\":%s},\"inputs\":[{\"name\":\"x\",\"unit\":\"u\","
                     "\"standard_uncertainty\":1,\"sensitivity\":1,\"degrees_of_freedom\":%s}]}",
                     json_get(it, "p")->text, json_get(it, "degrees_of_freedom")->text);
            STATUS(dividing_budget_of_model(model, Z, &budget), DIVIDING_STATUS_OK, model);
            STATUS(dividing_budget_result(budget, &result), DIVIDING_STATUS_OK, model);
            CHECK(within(result.coverage_factor, wanted, 1e-9 * wanted), model);
            dividing_budget_free(budget);
            done++;
        }
        CHECK(done > 50, "student factors");
    }
    json_free(&vectors);
    free(text);
}

/* Budgets against GTC, from the shared vectors; models as JSON. */
static void budgets(const char *folder) {
    char *text = NULL;
    json_value vectors;
    size_t i, j, done = 0;
    if (vectors_of(folder, "budget.json", &text, &vectors)) {
        for (i = 0; i < vectors.count; i++) {
            const json_value *it = &vectors.items[i];
            const json_value *us = json_get(it, "standard_uncertainties");
            const json_value *cs = json_get(it, "sensitivities");
            const json_value *dofs = json_get(it, "degrees_of_freedom");
            const json_value *correlations = json_get(it, "correlations");
            char model[8000];
            size_t k;
            int at;
            dividing_budget *budget = NULL;
            dividing_budget_figures result;
            at = snprintf(model, sizeof model,
                          "{\"quantity\":\"q\",\"unit\":\"u\",\"estimate\":0,"
                          "\"coverage\":{\"probability\":0.95},\"inputs\":[");
            for (j = 0; j < us->count; j++) {
                at += snprintf(model + at, sizeof model - (size_t)at,
                               "%s{\"name\":\"x%u\",\"unit\":\"u\",\"standard_uncertainty\":%s,"
                               "\"sensitivity\":%s,\"degrees_of_freedom\":%.*s}",
                               j == 0 ? "" : ",", (unsigned)j, us->items[j].text,
                               cs->items[j].text,
                               dofs == NULL ? 4 : (int)dofs->items[j].source_length,
                               dofs == NULL ? "null" : dofs->items[j].source);
            }
            at += snprintf(model + at, sizeof model - (size_t)at, "],\"correlations\":[");
            for (j = 0; correlations != NULL && j < us->count; j++) {
                for (k = j + 1; k < us->count; k++) {
                    at += snprintf(model + at, sizeof model - (size_t)at,
                                   "%s{\"first\":\"x%u\",\"second\":\"x%u\","
                                   "\"coefficient\":%s}",
                                   j + k == 1 ? "" : ",", (unsigned)j, (unsigned)k,
                                   correlations->items[j].items[k].text);
                }
            }
            snprintf(model + at, sizeof model - (size_t)at, "]}");
            STATUS(dividing_budget_of_model(model, Z, &budget), DIVIDING_STATUS_OK, model);
            if (budget != NULL) {
                double wanted = number_of(it, "combined");
                STATUS(dividing_budget_result(budget, &result), DIVIDING_STATUS_OK, "result");
                CHECK(within(result.combined_standard_uncertainty, wanted, 1e-9 * wanted),
                      "combined");
                CHECK(result.line_count == us->count, "lines");
                if (dofs != NULL) {
                    wanted = number_of(it, "effective_degrees_of_freedom");
                    CHECK(within(result.effective_degrees_of_freedom, wanted, 1e-8 * wanted),
                          "effective degrees of freedom");
                    wanted = number_of(it, "coverage_factor");
                    CHECK(within(result.coverage_factor, wanted, 1e-8 * wanted), "coverage");
                }
                done++;
            }
            dividing_budget_free(budget);
        }
        CHECK(done == vectors.count && done > 20, "budgets");
    }
    json_free(&vectors);
    free(text);
}

/* The exact geometry against SciPy, from the shared vectors. */
static void geometry(const char *folder) {
    char *text = NULL;
    json_value vectors;
    size_t i;
    if (vectors_of(folder, "geometry.json", &text, &vectors)) {
        for (i = 0; i < vectors.count; i++) {
            const json_value *it = &vectors.items[i];
            const char *what = json_text(it, "what");
            double exact = number_of(it, "exact_rad");
            dividing_modelled_angle angle = {0, 0, 0, false};
            if (strcmp(what, "pin_play") == 0) {
                STATUS(dividing_pin_play(number_of(it, "pin_radius_mm"),
                                         number_of(it, "hole_radius_mm"),
                                         number_of(it, "clearance_mm"), &angle),
                       DIVIDING_STATUS_OK, what);
            } else if (strcmp(what, "eccentricity_error") == 0) {
                STATUS(dividing_eccentricity_error(number_of(it, "hole_radius_mm"),
                                                   number_of(it, "eccentricity_mm"),
                                                   number_of(it, "phase_rad"), &angle),
                       DIVIDING_STATUS_OK, what);
            } else if (strcmp(what, "bar_tilt") == 0) {
                dividing_bar_support first, second;
                size_t n;
                double *place = numbers_of(json_get(it, "second_mm"), &n);
                double *holes = numbers_of(json_get(it, "holes_mm"), &n);
                double *pins = numbers_of(json_get(it, "pins_mm"), &n);
                memset(&first, 0, sizeof first);
                memset(&second, 0, sizeof second);
                second.hole_x_mm = place[0];
                second.hole_y_mm = place[1];
                first.hole_diameter_mm = holes[0];
                second.hole_diameter_mm = holes[1];
                first.pin_diameter_mm = pins[0];
                second.pin_diameter_mm = pins[1];
                STATUS(dividing_bar_tilt(first, second, json_get(it, "loose")->truth, &angle),
                       DIVIDING_STATUS_OK, what);
                free(place);
                free(holes);
                free(pins);
            } else {
                continue;
            }
            /* Both sides solve to about 1e-12. */
            CHECK(within(angle.exact_rad, exact, 1e-9), what);
        }
    }
    json_free(&vectors);
    free(text);
}

static int32_t stop_at_once(uint64_t spent, void *userdata) {
    (void)spent;
    ++*(int *)userdata;
    return 1;
}

/* What plans say of their errors, and of what was not looked at. */
static void reports(const dividing_plans *plans) {
    dividing_error_report_terms terms = {DIVIDING_CRITERION_WORST_CASE, 0,
                                         DIVIDING_COVERAGE_FACTOR, 2};
    char *text = NULL;
    bool complete = false;
    STATUS(dividing_plans_complete(plans, &complete), DIVIDING_STATUS_OK, "complete");
    CHECK(complete, "nothing was cut short");
    STATUS(dividing_plans_cut_short_text(plans, &text), DIVIDING_STATUS_OK, "cut short");
    CHECK(text != NULL && text[0] == '\0', "nothing was cut short");
    dividing_text_free(text);
    STATUS(dividing_plans_error_report_text(plans, 0, &terms, 0, NULL, NULL, &text),
           DIVIDING_STATUS_OK, "report as text");
    CHECK(text != NULL && strstr(text, "hole position") != NULL, "report as text");
    dividing_text_free(text);
    STATUS(dividing_plans_error_report_html(plans, 0, &terms, 0, NULL, NULL, &text),
           DIVIDING_STATUS_OK, "report as HTML");
    CHECK(text != NULL && strstr(text, "<table") != NULL, "report as HTML");
    dividing_text_free(text);
    STATUS(dividing_plans_error_report_json(plans, 0, &terms, 0, NULL, NULL, &text),
           DIVIDING_STATUS_OK, "report as JSON");
    CHECK(text != NULL && strstr(text, "\"trade_offs\"") != NULL, "report as JSON");
    dividing_text_free(text);
    STATUS(dividing_plans_deviation_svg(plans, 0, &text), DIVIDING_STATUS_OK, "picture");
    CHECK(text != NULL && strstr(text, "<svg") != NULL, "picture");
    dividing_text_free(text);
    text = NULL;
    terms.coverage_value = 0;
    STATUS(dividing_plans_error_report_text(plans, 0, &terms, 0, NULL, NULL, &text),
           DIVIDING_STATUS_OUT_OF_RANGE, "a coverage factor of 0");
    CHECK(text == NULL, "an output touched on failure");
}

/* Samples and degrees of freedom of a contributor: four values of which every
 * second is the largest have that as their standard uncertainty. */
static void samples(void) {
    static const double values[] = {3, -3, 3, -3};
    dividing_contributor one;
    dividing_budget *budget = NULL;
    dividing_budget_figures figures;
    memset(&one, 0, sizeof one);
    one.name = "repeated readings";
    one.limit = 0.01;
    one.sensitivity = 0.02;
    one.distribution = DIVIDING_DISTRIBUTION_SAMPLES;
    one.samples = values;
    one.sample_count = 4;
    one.degrees_of_freedom = 5;
    STATUS(dividing_budget_new("angle", 0, &one, 1, DIVIDING_COVERAGE_PROBABILITY, 0.95, &budget),
           DIVIDING_STATUS_OK, "samples");
    STATUS(dividing_budget_result(budget, &figures), DIVIDING_STATUS_OK, "samples");
    CHECK(within(figures.combined_standard_uncertainty, 0.0002 / ARCSEC, 1e-9), "samples");
    CHECK(figures.effective_degrees_of_freedom == 5, "degrees of freedom");
    dividing_budget_free(budget);
    budget = NULL;
    one.sample_count = 0;
    STATUS(dividing_budget_new("angle", 0, &one, 1, DIVIDING_COVERAGE_PROBABILITY, 0.95, &budget),
           DIVIDING_STATUS_EMPTY_LIST, "no samples");
}

/* One plan through model, budget, simulation and the inverse question. */
static void accuracy(void) {
    static const char *const workshop =
        "{\"format\":1,\"name\":\"w\",\"equipment\":[{\"direct_plate\":{\"name\":\"plate\","
        "\"circles\":[{\"holes\":12,\"pitch_radius\":50}],\"registration\":{"
        "\"pin_diameter\":5.98,\"hole_diameter\":6,\"hole_position_tolerance\":0.02}}}]}";
    static const char *const job =
        "{\"format\":1,\"name\":\"j\",\"features\":{\"equal_divisions\":{\"count\":6}},"
        "\"tolerance\":{\"angle\":\"0.05 deg\"}}";
    dividing_plans *plans = NULL;
    dividing_error_model *model = NULL;
    dividing_modelled_feature feature;
    dividing_contributor list[2];
    dividing_budget *budget = NULL, *own = NULL;
    dividing_budget_figures figures, same;
    dividing_budget_entry entry;
    dividing_simulation *simulation = NULL;
    dividing_simulation_report *one = NULL, *two = NULL, *none = NULL;
    dividing_simulation_summary summary;
    dividing_quantity_figures pitch, range, largest;
    dividing_feature_places columns;
    dividing_conformance conformance;
    dividing_trade_off trade;
    dividing_allowance allowance;
    dividing_run run;
    double mean[6], deviation[6], quantiles[3], total = 0, radius = 0;
    char *first = NULL, *second = NULL;
    int asked = 0;
    size_t i;
    STATUS(dividing_plans_new(workshop, Z, job, Z, &plans), DIVIDING_STATUS_OK, "plans");
    STATUS(dividing_error_model_new(plans, 0, 0, NULL, NULL, &model), DIVIDING_STATUS_OK,
           "model");
    reports(plans);
    dividing_plans_free(plans);
    STATUS(dividing_error_model_feature(model, 1, &feature), DIVIDING_STATUS_OK, "feature");
    CHECK(feature.contributor_count == 2 && feature.residual_rad == 0 &&
              feature.required.denominator == 6,
          "feature");
    for (i = 0; i < 2; i++) {
        STATUS(dividing_error_model_contributor(model, 1, i, &list[i]), DIVIDING_STATUS_OK,
               "contributor");
        /* Hole and pin lie within 0.010 mm each, at 50 mm. */
        CHECK(within(list[i].limit, 0.01, 1e-12) && within(list[i].sensitivity, 0.02, 1e-12),
              list[i].name);
    }
    STATUS(dividing_error_model_contributor(model, 1, 2, &list[0]), DIVIDING_STATUS_NOT_FOUND,
           "contributor 2");
    /* sqrt(2) * 0.005 / 50 rad in seconds of arc: 29.17. */
    STATUS(dividing_error_model_budget(model, 0, DIVIDING_COVERAGE_FACTOR, 2, &budget),
           DIVIDING_STATUS_OK, "budget");
    STATUS(dividing_budget_result(budget, &figures), DIVIDING_STATUS_OK, "budget");
    CHECK(within(figures.combined_standard_uncertainty, sqrt(2) * 0.0001 / ARCSEC, 1e-9),
          "29.17 seconds");
    STATUS(dividing_budget_new("own", 0, list, 2, DIVIDING_COVERAGE_FACTOR, 2, &own),
           DIVIDING_STATUS_OK, "own budget");
    STATUS(dividing_budget_result(own, &same), DIVIDING_STATUS_OK, "own budget");
    CHECK(same.combined_standard_uncertainty == figures.combined_standard_uncertainty,
          "contributors make the same budget");
    STATUS(dividing_budget_line(own, 1, &entry), DIVIDING_STATUS_OK, "line");
    CHECK(within(entry.share, 0.5, 1e-12), "half of the variance");
    STATUS(dividing_budget_line(own, 2, &entry), DIVIDING_STATUS_NOT_FOUND, "line 2");
    STATUS(dividing_budget_text(own, &first), DIVIDING_STATUS_OK, "text");
    dividing_text_free(first);
    STATUS(dividing_budget_html(own, &first), DIVIDING_STATUS_OK, "HTML");
    dividing_text_free(first);
    STATUS(dividing_budget_json(own, &first), DIVIDING_STATUS_OK, "JSON");
    dividing_text_free(first);
    dividing_budget_free(own);
    dividing_budget_free(budget);

    STATUS(dividing_total_rad(list, 2, DIVIDING_CRITERION_WORST_CASE, 0, &total),
           DIVIDING_STATUS_OK, "worst case");
    CHECK(within(total, 0.0004, 1e-15), "0.020 mm at 50 mm");
    STATUS(dividing_loosest_limit(list, 2, list[0].name, DIVIDING_CRITERION_WORST_CASE, 0,
                                  0.0005, &allowance),
           DIVIDING_STATUS_OK, "allowance");
    CHECK(allowance.kind == DIVIDING_ALLOWANCE_KIND_UP_TO && within(allowance.up_to, 0.015, 1e-12),
          "0.025 mm less 0.010 mm");
    STATUS(dividing_loosest_limit(list, 2, "nothing", DIVIDING_CRITERION_WORST_CASE, 0, 0.0005,
                                  &allowance),
           DIVIDING_STATUS_NOT_FOUND, "no such name");
    STATUS(dividing_least_radius_mm(list, 2, 50, DIVIDING_CRITERION_WORST_CASE, 0, 0.0005,
                                    &radius),
           DIVIDING_STATUS_OK, "radius");
    CHECK(within(radius, 40, 1e-9), "0.020 mm within 0.0005 rad: 40 mm");
    STATUS(dividing_error_model_conformance(model, 0, 1, DIVIDING_COVERAGE_FACTOR, 2,
                                            &conformance),
           DIVIDING_STATUS_OK, "conformance");
    CHECK(conformance.decision == DIVIDING_DECISION_PASS && conformance.probability > 0.99,
          "conformance");
    STATUS(dividing_error_model_trade_off(model, DIVIDING_CRITERION_WORST_CASE, 0, &trade),
           DIVIDING_STATUS_OK, "trade-off");
    CHECK(trade.present_lever_mm == 50 && trade.least_lever_mm < 50, "trade-off");
    STATUS(dividing_error_model_trade_offs_json(model, DIVIDING_CRITERION_WORST_CASE, 0,
                                                &first),
           DIVIDING_STATUS_OK, "trade-offs");
    dividing_text_free(first);

    /* The same seed gives the same report on one thread and on two. */
    STATUS(dividing_error_model_simulation(model, &simulation), DIVIDING_STATUS_OK,
           "simulation");
    dividing_error_model_free(model);
    memset(&run, 0, sizeof run);
    run.trials = 20000;
    run.seeded = 1;
    run.seed = 7;
    STATUS(dividing_simulation_run(simulation, &run, 0, NULL, NULL, &one), DIVIDING_STATUS_OK,
           "one thread");
    run.threads = 2;
    STATUS(dividing_simulation_run(simulation, &run, 0, NULL, NULL, &two), DIVIDING_STATUS_OK,
           "two threads");
    STATUS(dividing_simulation_report_json(one, &first), DIVIDING_STATUS_OK, "JSON");
    STATUS(dividing_simulation_report_json(two, &second), DIVIDING_STATUS_OK, "JSON");
    CHECK(first != NULL && second != NULL && strcmp(first, second) == 0, "threads");
    dividing_text_free(first);
    dividing_text_free(second);
    STATUS(dividing_simulation_run(simulation, &run, 100, stop_at_once, &asked, &none),
           DIVIDING_STATUS_WORK_LIMIT, "a limit of a hundred steps");
    run.trials = 5000000;
    STATUS(dividing_simulation_run(simulation, &run, 0, stop_at_once, &asked, &none),
           DIVIDING_STATUS_CANCELLED, "a watcher that stops");
    CHECK(asked > 0, "a watcher that stops");
    run.trials = 20000;
    run.threads = 1000;
    STATUS(dividing_simulation_run(simulation, &run, 0, NULL, NULL, &none),
           DIVIDING_STATUS_OUT_OF_RANGE, "a thousand threads");
    CHECK(none == NULL, "an output touched on failure");
    STATUS(dividing_simulation_report_get(one, &summary), DIVIDING_STATUS_OK, "summary");
    CHECK(summary.trials == 20000 && summary.stable == -1 && summary.feature_count == 6 &&
              summary.all.probability == 1,
          "summary");
    STATUS(dividing_simulation_report_quantity(one, DIVIDING_QUANTITY_SINGLE_PITCH, 0, &pitch),
           DIVIDING_STATUS_OK, "pitch");
    CHECK(pitch.quantile_count == 3 && pitch.least_rad <= pitch.mean_rad &&
              pitch.mean_rad <= pitch.greatest_rad,
          "pitch");
    STATUS(dividing_simulation_report_quantiles(one, DIVIDING_QUANTITY_SINGLE_PITCH, 0,
                                                quantiles, 3),
           DIVIDING_STATUS_OK, "quantiles");
    CHECK(quantiles[0] <= quantiles[1] && quantiles[1] <= quantiles[2], "quantiles");
    STATUS(dividing_simulation_report_quantity(one, DIVIDING_QUANTITY_FEATURE, 6, &pitch),
           DIVIDING_STATUS_NOT_FOUND, "feature 6");
    memset(&columns, 0, sizeof columns);
    columns.capacity = 6;
    columns.mean_rad = mean;
    columns.standard_deviation_rad = deviation;
    STATUS(dividing_simulation_report_features(one, &columns), DIVIDING_STATUS_OK, "features");
    for (i = 0; i < 6; i++) {
        /* About the mean of six features sqrt(2) * 0.0001 rad would be sqrt(5/6) of
         * that, and no other shift makes the squares less; 20000 trials give the
         * standard deviation to half a per cent. */
        CHECK(deviation[i] > sqrt(2 * 5.0 / 6) * 0.0001 * 0.99 &&
                  deviation[i] < sqrt(2.0) * 0.0001 * 1.01,
              "standard deviation");
        CHECK(within(mean[i], 0, 4e-6), "mean");
    }
    /* About the middle the largest deviation of a trial is half its range. */
    STATUS(dividing_simulation_report_quantity(one, DIVIDING_QUANTITY_CUMULATIVE_PITCH, 0,
                                               &range),
           DIVIDING_STATUS_OK, "range");
    STATUS(dividing_simulation_report_quantity(one, DIVIDING_QUANTITY_LARGEST_DEVIATION, 0,
                                               &largest),
           DIVIDING_STATUS_OK, "largest deviation");
    CHECK(within(largest.mean_rad, range.mean_rad / 2, 1e-12), "half the range");
    STATUS(dividing_simulation_report_svg(one, "Six", &first), DIVIDING_STATUS_OK, "SVG");
    dividing_text_free(first);
    dividing_simulation_report_free(one);
    dividing_simulation_report_free(two);
    dividing_simulation_free(simulation);
}

/* Sweeps: a row of a table is the call for that row alone. */
static void sweeps(void) {
    double radius[3] = {25, 50, 100}, hole = 0.01, station = 0, clearance = 0.02, bore = 0,
           eccentricity = 0, out[3] = {0, 0, 0};
    dividing_plungers columns;
    size_t i;
    columns.pitch_radius_mm.values = radius;
    columns.pitch_radius_mm.length = 3;
    columns.hole_deviation_mm.values = &hole;
    columns.station_deviation_mm.values = &station;
    columns.clearance_mm.values = &clearance;
    columns.bore_clearance_mm.values = &bore;
    columns.eccentricity_mm.values = &eccentricity;
    columns.hole_deviation_mm.length = columns.station_deviation_mm.length = 1;
    columns.clearance_mm.length = columns.bore_clearance_mm.length = 1;
    columns.eccentricity_mm.length = 1;
    STATUS(dividing_plunger_worst_case_rad(&columns, out, 2), DIVIDING_STATUS_BUFFER_TOO_SMALL,
           "a row short");
    STATUS(dividing_plunger_worst_case_rad(&columns, out, 3), DIVIDING_STATUS_OK, "worst");
    for (i = 0; i < 3; i++) {
        CHECK(within(out[i], 0.02 / radius[i], 1e-15), "(0.01 + 0.02/2) / r");
    }
    STATUS(dividing_plunger_least_pitch_radius_mm(&columns, 0.0004, out, 3),
           DIVIDING_STATUS_OK, "radius");
    CHECK(within(out[0], 50, 1e-9), "0.02 mm within 0.0004 rad");
    STATUS(dividing_plunger_loosest_clearance_mm(&columns, 0.0003, out, 3), DIVIDING_STATUS_OK,
           "clearance");
    CHECK(isnan(out[0]) && within(out[1], 0.01, 1e-12) && within(out[2], 0.04, 1e-12),
          "2 * (0.0003 * r - 0.01)");
    columns.clearance_mm.length = 0;
    STATUS(dividing_plunger_standard_uncertainty_rad(&columns, out, 3),
           DIVIDING_STATUS_EMPTY_LIST, "an empty column");
}

/* Circles against SciPy, from the shared vectors. */
static void circles(const char *folder) {
    char *text = NULL;
    json_value vectors;
    size_t i, j, count;
    dividing_circle circle;
    double line[3] = {0, 1, 2};
    STATUS(dividing_fit_circle(line, line, NULL, NULL, 2, NULL, &circle),
           DIVIDING_STATUS_UNDETERMINED, "two points");
    STATUS(dividing_fit_circle(line, line, line, NULL, 3, NULL, &circle),
           DIVIDING_STATUS_INCONSISTENT, "one uncertainty");
    if (vectors_of(folder, "inspection_circle.json", &text, &vectors)) {
        const json_value *cases = json_get(&vectors, "cases");
        for (i = 0; i < cases->count; i++) {
            const json_value *it = &cases->items[i];
            const json_value *points = json_get(it, "points_mm");
            const json_value *stated = json_get(it, "uncertainty_mm");
            const json_value *covariance = json_get(it, "covariance_mm2");
            double *centre = numbers_of(json_get(it, "centre_mm"), &count);
            double wanted = number_of(it, "radius_mm"), spread = 1e-2, off;
            double *x = (double *)malloc(points->count * 5 * sizeof *x);
            double *y = x + points->count, *ux = y + points->count, *uy = ux + points->count;
            double *residuals = uy + points->count;
            bool uncertain = stated != NULL && stated->kind == JSON_ARRAY;
            for (j = 0; j < points->count; j++) {
                x[j] = strtod(points->items[j].items[0].text, NULL);
                y[j] = strtod(points->items[j].items[1].text, NULL);
                if (uncertain) {
                    const json_value *u = &stated->items[j];
                    ux[j] = strtod(u->kind == JSON_ARRAY ? u->items[0].text : u->text, NULL);
                    uy[j] = strtod(u->kind == JSON_ARRAY ? u->items[1].text : u->text, NULL);
                }
            }
            if (covariance != NULL && covariance->kind == JSON_ARRAY) {
                spread = sqrt(strtod(covariance->items[0].items[0].text, NULL) +
                              strtod(covariance->items[1].items[1].text, NULL) +
                              strtod(covariance->items[2].items[2].text, NULL));
            }
            /* SciPy stops at about 1e-5 of the spread. */
            off = 1e-5 * spread + 1e-11 * wanted;
            STATUS(dividing_fit_circle(x, y, uncertain ? ux : NULL, uncertain ? uy : NULL,
                                       points->count, residuals, &circle),
                   DIVIDING_STATUS_OK, json_text(it, "id"));
            CHECK(within(circle.x_mm, centre[0], off) && within(circle.y_mm, centre[1], off) &&
                      within(circle.radius_mm, wanted, off),
                  json_text(it, "id"));
            for (j = 0; j < points->count; j++) {
                CHECK(within(residuals[j],
                             hypot(x[j] - circle.x_mm, y[j] - circle.y_mm) - circle.radius_mm,
                             1e-9),
                      json_text(it, "id"));
            }
            free(x);
            free(centre);
        }
    }
    json_free(&vectors);
    free(text);
}

/* Closure calibrations against NumPy, from the shared vectors. */
static void closures(const char *folder) {
    char *text = NULL;
    json_value vectors;
    size_t i, j, count;
    if (vectors_of(folder, "inspection_closure.json", &text, &vectors)) {
        const json_value *cases = json_get(&vectors, "cases");
        for (i = 0; i < cases->count; i++) {
            const json_value *it = &cases->items[i];
            const char *id = json_text(it, "id");
            const json_value *rows = json_get(it, "readings_arcsec");
            const json_value *shifts = json_get(it, "shifts");
            size_t n = (size_t)number_of(it, "positions");
            size_t *places = (size_t *)malloc((shifts->count + 1) * sizeof *places);
            double *readings = (double *)malloc((n * shifts->count + 1) * sizeof *readings);
            double *found = (double *)malloc((n + 1) * sizeof *found), *wanted;
            dividing_ring_readings ring;
            dividing_measurement *measurement = NULL;
            dividing_inspection *inspection = NULL;
            dividing_inspected kind;
            dividing_closure closure;
            dividing_status status;
            double uncertainty = number_of(it, "standard_uncertainty_arcsec");
            memset(&ring, 0, sizeof ring);
            ring.places = n;
            ring.standard_uncertainty = isnan(uncertainty) ? 0 : uncertainty;
            for (j = 0; j < shifts->count; j++) {
                double *row = numbers_of(&rows->items[j], &count);
                places[j] = (size_t)strtoul(shifts->items[j].text, NULL, 10);
                memcpy(readings + j * n, row, n * sizeof *row);
                free(row);
            }
            STATUS(dividing_measurement_closure(&ring, places, shifts->count, readings,
                                                shifts->count * n, &measurement),
                   DIVIDING_STATUS_OK, id);
            status = dividing_inspection_new(measurement, 0, NULL, NULL, &inspection);
            if (!json_get(it, "determined")->truth) {
                STATUS(status, DIVIDING_STATUS_UNDETERMINED, id);
            } else {
                STATUS(status, DIVIDING_STATUS_OK, id);
                STATUS(dividing_inspection_kind(inspection, &kind), DIVIDING_STATUS_OK, id);
                CHECK(kind == DIVIDING_INSPECTED_CLOSURE, id);
                STATUS(dividing_inspection_closure(inspection, &closure), DIVIDING_STATUS_OK,
                       id);
                CHECK(closure.positions == n && closure.setup_count == shifts->count &&
                          (double)closure.degrees_of_freedom ==
                              number_of(it, "degrees_of_freedom"),
                      id);
                for (j = 0; j < 2; j++) {
                    size_t p;
                    wanted =
                        numbers_of(json_get(it, j == 0 ? "first_arcsec" : "second_arcsec"), &count);
                    STATUS(dividing_inspection_device(inspection, (int32_t)j, n, found, NULL),
                           DIVIDING_STATUS_OK, id);
                    for (p = 0; p < n; p++) {
                        CHECK(within(found[p] / ARCSEC, wanted[p], 1e-9), id);
                    }
                    free(wanted);
                }
            }
            dividing_inspection_free(inspection);
            dividing_measurement_free(measurement);
            free(places);
            free(readings);
            free(found);
        }
    }
    json_free(&vectors);
    free(text);
}

/* Harmonics against NumPy's Fourier transform, from the shared vectors. */
static void harmonics(const char *folder) {
    char *text = NULL;
    json_value vectors;
    size_t i, j, count, terms;
    if (vectors_of(folder, "inspection_harmonics.json", &text, &vectors)) {
        const json_value *cases = json_get(&vectors, "cases");
        for (i = 0; i < cases->count; i++) {
            const json_value *it = &cases->items[i];
            const char *id = json_text(it, "id");
            double *measured = numbers_of(json_get(it, "measured"), &count);
            double *readings = numbers_of(json_get(it, "deviations_arcsec"), &count);
            double *wanted = numbers_of(json_get(it, "amplitude_arcsec"), &terms);
            size_t *places = (size_t *)malloc((count + 1) * sizeof *places);
            double *found = (double *)malloc((2 * terms + 2) * sizeof *found);
            dividing_ring_readings ring;
            dividing_measurement *measurement = NULL;
            dividing_inspection *inspection = NULL;
            dividing_ring_figures figures;
            for (j = 0; j < count; j++) {
                places[j] = (size_t)measured[j];
            }
            memset(&ring, 0, sizeof ring);
            ring.places = (size_t)number_of(it, "places");
            STATUS(dividing_measurement_deviations(&ring, places, readings, count, &measurement),
                   DIVIDING_STATUS_OK, id);
            STATUS(dividing_inspection_new(measurement, 0, NULL, NULL, &inspection),
                   DIVIDING_STATUS_OK, id);
            if (inspection != NULL) {
                STATUS(dividing_inspection_ring(inspection, 0, &figures), DIVIDING_STATUS_OK,
                       id);
                CHECK(within(figures.first_amplitude_rad / ARCSEC, number_of(it, "first_arcsec"),
                             1e-8),
                      id);
                CHECK(figures.measured_count == count && figures.harmonic_count == terms, id);
                STATUS(dividing_inspection_harmonics(inspection, 0, terms, found, found + terms),
                       DIVIDING_STATUS_OK, id);
                for (j = 0; j < terms; j++) {
                    CHECK(within(found[j] / ARCSEC, wanted[j], 1e-8), id);
                }
            }
            dividing_inspection_free(inspection);
            dividing_measurement_free(measurement);
            free(measured);
            free(readings);
            free(wanted);
            free(places);
            free(found);
        }
    }
    json_free(&vectors);
    free(text);
}

/* A measured plate goes back into the workshop; CSV names line and column. */
static void measured_plate(void) {
    static const double deviations[8] = {4, -1, -3, 2, 0, -2, 1, -1};
    static const size_t four[] = {0, 2, 4, 6};
    dividing_ring_readings ring;
    dividing_measurement *measurement = NULL;
    dividing_inspection *inspection = NULL;
    dividing_workshop *workshop = NULL, *known = NULL;
    dividing_deviation_places columns;
    dividing_pitch pitch;
    dividing_best_start start;
    dividing_correction corrections[8];
    dividing_ring_limits limits;
    dividing_part_verdict verdict;
    dividing_check checks[32];
    dividing_shift_plan plan;
    size_t place[8], shifts[64], i;
    double rad[8], single[8], cumulative[8];
    char *text = NULL;

    memset(&ring, 0, sizeof ring);
    ring.name = "plate";
    ring.places = 8;
    STATUS(dividing_measurement_from_csv(
               &ring, DIVIDING_READINGS_COORDINATES,
               "place,x_mm,y_mm\n0,50.003,0.001\n1,abc,49.998\n", Z, &measurement),
           DIVIDING_STATUS_INVALID_FIELD, "letters for a number");
    CHECK(strcmp(dividing_last_error_field(), "line 3, column x_mm") == 0,
          dividing_last_error_field());
    CHECK(measurement == NULL, "an output touched on failure");
    ring.standard_uncertainty = 0.5;
    STATUS(dividing_measurement_deviations(&ring, NULL, deviations, 8, &measurement),
           DIVIDING_STATUS_OK, "deviations");
    STATUS(dividing_inspection_new(measurement, 0, NULL, NULL, &inspection), DIVIDING_STATUS_OK,
           "inspection");
    dividing_measurement_free(measurement);
    memset(&columns, 0, sizeof columns);
    columns.capacity = 8;
    columns.place = place;
    columns.deviation_rad = rad;
    STATUS(dividing_inspection_deviations(inspection, 0, &columns), DIVIDING_STATUS_OK,
           "columns");
    STATUS(dividing_inspection_pitch(inspection, 0, 0, 8, single, cumulative, &pitch),
           DIVIDING_STATUS_OK, "pitch");
    for (i = 0; i < 8; i++) {
        CHECK(place[i] == i && within(rad[i], deviations[i] * ARCSEC, 1e-15), "deviation");
        CHECK(within(single[i], (deviations[(i + 1) % 8] - deviations[i]) * ARCSEC, 1e-14),
              "neighbour less neighbour");
        CHECK(within(cumulative[i], (deviations[i] - deviations[0]) * ARCSEC, 1e-14),
              "from the first");
    }
    CHECK(within(pitch.cumulative_rad, 7 * ARCSEC, 1e-14) && pitch.cumulative_from == 2 &&
              pitch.cumulative_to == 0,
          "from -3 to 4");
    /* Of 0, 2, 4, 6 and 1, 3, 5, 7 the second set lies closer together. */
    STATUS(dividing_inspection_choose_start(inspection, 0, 0, four, 4,
                                            DIVIDING_REFERENCE_MIDDLE, 0, 0, NULL, NULL, &start),
           DIVIDING_STATUS_OK, "start");
    CHECK(start.best % 2 == 1 && within(start.worst_rad, 2 * ARCSEC, 1e-14) &&
              within(start.worst_choice_rad, 3.5 * ARCSEC, 1e-14),
          "start");
    STATUS(dividing_inspection_corrections(inspection, 0, 0, 2 * ARCSEC, corrections, 8),
           DIVIDING_STATUS_OK, "corrections");
    CHECK(corrections[0].graduations == -2 && within(corrections[0].left_rad, 0, 1e-14),
          "two graduations of 2 seconds");
    memset(&limits, 0, sizeof limits);
    limits.single_pitch_rad = 10 * ARCSEC;
    STATUS(dividing_inspection_check(inspection, 0, &limits, -1, &verdict), DIVIDING_STATUS_OK,
           "check");
    CHECK(verdict.verdict == DIVIDING_DECISION_PASS && verdict.check_count == 8, "check");
    STATUS(dividing_inspection_checks(inspection, 0, &limits, -1, checks, 32),
           DIVIDING_STATUS_OK, "checks");
    CHECK(checks[7].checked == DIVIDING_CHECKED_SINGLE_PITCH && checks[7].place == 7, "checks");
    STATUS(dividing_inspection_text(inspection, &text), DIVIDING_STATUS_OK, "text");
    CHECK(text != NULL && strstr(text, "plate") != NULL, "text");
    dividing_text_free(text);
    STATUS(dividing_inspection_json(inspection, &text), DIVIDING_STATUS_OK, "JSON");
    dividing_text_free(text);
    STATUS(dividing_inspection_svg(inspection, "Plate", &text), DIVIDING_STATUS_OK, "SVG");
    dividing_text_free(text);
    text = NULL;
    STATUS(dividing_workshop_from_json(
               "{\"format\":1,\"name\":\"w\",\"equipment\":[{\"direct_plate\":{\"name\":\"p\","
               "\"circles\":[{\"holes\":8,\"pitch_radius\":50}]}},{\"faced_block\":{"
               "\"name\":\"b\",\"faces\":4}}]}",
               Z, &workshop),
           DIVIDING_STATUS_OK, "workshop");
    STATUS(dividing_inspection_into_workshop(inspection, 0, workshop, 1, 0, &known),
           DIVIDING_STATUS_INCONSISTENT, "a faced block");
    STATUS(dividing_inspection_into_workshop(inspection, 0, workshop, 0, 1, &known),
           DIVIDING_STATUS_NOT_FOUND, "circle 1");
    STATUS(dividing_inspection_into_workshop(inspection, 0, workshop, 0, 0, &known),
           DIVIDING_STATUS_OK, "measured");
    STATUS(dividing_workshop_json(known, &text), DIVIDING_STATUS_OK, "measured");
    CHECK(text != NULL && strstr(text, "deviation_arcsec") != NULL, "measured");
    dividing_text_free(text);
    dividing_workshop_free(known);
    dividing_workshop_free(workshop);
    dividing_inspection_free(inspection);
    STATUS(dividing_plan_shifts(12, 1e-6, 5e-7, 0, NULL, NULL, shifts, 64, &plan),
           DIVIDING_STATUS_OK, "plan");
    CHECK(plan.shift_count > 1 && plan.division_uncertainty_rad <= 5e-7 &&
              plan.readings == 12 * plan.shift_count,
          "plan");
}

void test_proof(const char *folder) {
    patterns();
    budgets(folder);
    student_factors(folder);
    geometry(folder);
    samples();
    accuracy();
    sweeps();
    circles(folder);
    closures(folder);
    harmonics(folder);
    measured_plate();
}
