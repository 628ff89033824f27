/*
 * Equipment, workshops and jobs built by calls: what they come to must be what
 * the same documents in JSON come to.
 */
#include "read.h"

static const char *const BENCH =
    "{\"format\":1,\"name\":\"Bench\",\"equipment\":["
    "{\"worm_head\":{\"name\":\"head\",\"worm_ratio\":40,"
    "\"plates\":[{\"name\":\"plate 1\",\"circles\":[15,16,17,18,19,20]}],"
    "\"registration\":{\"pin_diameter\":5.98,\"hole_diameter\":6,"
    "\"hole_position_tolerance\":0.02},\"smallest_pitch_radius\":38,"
    "\"worm_error\":\"0°01'\",\"change_gears\":{\"gears\":[24,24,28,32,40,44,48,56,64,72,86,100]}}},"
    "{\"direct_plate\":{\"name\":\"plate\",\"circles\":[{\"holes\":24,\"pitch_radius\":50,"
    "\"absent\":[3]}],\"sense\":\"clockwise\"}},"
    "{\"vernier_indexer\":{\"name\":\"indexer\",\"circle\":{\"holes\":36},"
    "\"stations\":[\"0 deg\",\"11 deg\"]}},"
    "{\"faced_block\":{\"name\":\"square\",\"faces\":4,\"face_error\":\"0°01'\"}},"
    "{\"vee_block\":{\"name\":\"V-block\",\"included_angle\":\"90 deg\"}},"
    "{\"pin_plate\":{\"name\":\"pins\",\"circles\":[{\"holes\":6,\"pitch_radius\":40}],"
    "\"levelling\":{\"reading\":0.01,\"travel\":60}}},"
    "{\"graduated_dial\":{\"name\":\"dial\",\"worm_ratio\":90,\"graduations\":240}},"
    "{\"sine_bar\":{\"name\":\"bar\",\"length\":100,\"blocks\":{\"named\":\"metric_87\"}}},"
    "{\"angle_blocks\":{\"name\":\"wedges\",\"blocks\":{\"named\":\"pieces13\"}}},"
    "{\"protractor\":{\"name\":\"protractor\",\"resolution\":\"0°05'\"}},"
    "{\"part_reference\":{\"name\":\"stop\",\"contact\":{\"flat\":{}},"
    "\"from\":\"last_feature\",\"angles\":[\"36 deg\"]}},"
    "{\"stack\":{\"name\":\"tilted\",\"members\":[\"square\",\"bar\"]}}]}";

enum { PIECES = 12 };

static size_t made(dividing_status status, const char *about, size_t count) {
    STATUS(status, DIVIDING_STATUS_OK, about);
    return count + (status == DIVIDING_STATUS_OK ? 1 : 0);
}

/* The pieces of BENCH by calls; how many were made. */
static size_t pieces_by_calls(dividing_equipment **pieces) {
    static const uint32_t absent[] = {3};
    static const uint32_t gears[] = {24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100};
    static const dividing_fraction stations[] = {{0, 1}, {11, 360}};
    static const dividing_fraction step[] = {{1, 10}};
    static const char *const members[] = {"square", "bar"};
    dividing_plate_circle circles[6];
    dividing_pin_in_hole pin;
    dividing_change_gears change;
    dividing_index_plate plate;
    dividing_levelling levelling;
    dividing_hole_circle hole_circle;
    dividing_worm_head head;
    dividing_direct_plate direct;
    dividing_vernier_indexer vernier;
    dividing_faced_block block;
    dividing_vee_block vee;
    dividing_pin_plate pins;
    dividing_graduated_dial dial;
    dividing_sine_bar bar;
    dividing_angle_blocks wedges;
    dividing_protractor protractor;
    dividing_part_reference stop;
    dividing_stack stack;
    size_t n = 0;
    uint32_t i;

    memset(circles, 0, sizeof circles);
    for (i = 0; i < 6; i++) {
        circles[i].holes = 15 + i;
    }
    memset(&pin, 0, sizeof pin);
    pin.pin_diameter_mm = 5.98;
    pin.hole_diameter_mm = 6;
    pin.hole_position_tolerance_mm = 0.02;
    memset(&change, 0, sizeof change);
    change.gears = gears;
    change.gear_count = sizeof gears / sizeof gears[0];
    memset(&plate, 0, sizeof plate);
    plate.name = "plate 1";
    plate.circles = circles;
    plate.circle_count = 6;
    memset(&head, 0, sizeof head);
    head.name = "head";
    head.worm_ratio.numerator = 40;
    head.worm_ratio.denominator = 1;
    head.plates = &plate;
    head.plate_count = 1;
    head.registration = &pin;
    head.smallest_pitch_radius.given = 1;
    head.smallest_pitch_radius.mm = 38;
    head.worm_error.numerator = 1;
    head.worm_error.denominator = 21600;
    head.change_gears = &change;
    n = made(dividing_equipment_worm_head(&head, &pieces[n]), "worm head", n);

    memset(&hole_circle, 0, sizeof hole_circle);
    hole_circle.holes = 24;
    hole_circle.pitch_radius.given = 1;
    hole_circle.pitch_radius.mm = 50;
    hole_circle.absent = absent;
    hole_circle.absent_count = 1;
    memset(&direct, 0, sizeof direct);
    direct.name = "plate";
    direct.circles = &hole_circle;
    direct.circle_count = 1;
    direct.sense = DIVIDING_SENSE_CLOCKWISE;
    n = made(dividing_equipment_direct_plate(&direct, &pieces[n]), "direct plate", n);

    memset(&vernier, 0, sizeof vernier);
    vernier.name = "indexer";
    vernier.circle.holes = 36;
    vernier.stations = stations;
    vernier.station_count = 2;
    n = made(dividing_equipment_vernier_indexer(&vernier, &pieces[n]), "vernier indexer", n);

    memset(&block, 0, sizeof block);
    block.name = "square";
    block.faces = 4;
    block.face_error = head.worm_error;
    n = made(dividing_equipment_faced_block(&block, &pieces[n]), "faced block", n);

    memset(&vee, 0, sizeof vee);
    vee.name = "V-block";
    vee.included_angle.numerator = 1;
    vee.included_angle.denominator = 4;
    n = made(dividing_equipment_vee_block(&vee, &pieces[n]), "vee block", n);

    memset(&hole_circle, 0, sizeof hole_circle);
    hole_circle.holes = 6;
    hole_circle.pitch_radius.given = 1;
    hole_circle.pitch_radius.mm = 40;
    levelling.reading_mm = 0.01;
    levelling.travel_mm = 60;
    memset(&pins, 0, sizeof pins);
    pins.name = "pins";
    pins.circles = &hole_circle;
    pins.circle_count = 1;
    pins.bar_turns_over = 1;
    pins.levelling = &levelling;
    n = made(dividing_equipment_pin_plate(&pins, &pieces[n]), "pin plate", n);

    memset(&dial, 0, sizeof dial);
    dial.name = "dial";
    dial.worm_ratio.numerator = 90;
    dial.worm_ratio.denominator = 1;
    dial.graduations = 240;
    n = made(dividing_equipment_graduated_dial(&dial, &pieces[n]), "graduated dial", n);

    memset(&bar, 0, sizeof bar);
    bar.name = "bar";
    bar.length_mm = 100;
    bar.block_set = "metric_87";
    bar.turns_end_for_end = 1;
    n = made(dividing_equipment_sine_bar(&bar, &pieces[n]), "sine bar", n);

    memset(&wedges, 0, sizeof wedges);
    wedges.name = "wedges";
    wedges.block_set = "pieces13";
    n = made(dividing_equipment_angle_blocks(&wedges, &pieces[n]), "angle blocks", n);

    memset(&protractor, 0, sizeof protractor);
    protractor.name = "protractor";
    protractor.resolution.numerator = 1;
    protractor.resolution.denominator = 4320;
    n = made(dividing_equipment_protractor(&protractor, &pieces[n]), "protractor", n);

    memset(&stop, 0, sizeof stop);
    stop.name = "stop";
    stop.contact = DIVIDING_CONTACT_FLAT;
    stop.from = DIVIDING_FROM_FEATURE_LAST_FEATURE;
    stop.angles = step;
    stop.angle_count = 1;
    n = made(dividing_equipment_part_reference(&stop, &pieces[n]), "part reference", n);

    stack.name = "tilted";
    stack.members = members;
    stack.member_count = 2;
    n = made(dividing_equipment_stack(&stack, &pieces[n]), "stack", n);
    return n;
}

static void check_same(dividing_status status, char **found, const char *wanted,
                       const char *about) {
    STATUS(status, DIVIDING_STATUS_OK, about);
    if (status == DIVIDING_STATUS_OK) {
        CHECK(strcmp(*found, wanted) == 0, about);
        dividing_text_free(*found);
        *found = NULL;
    }
}

/* A workshop by calls is the one of the document. */
static void workshops(void) {
    dividing_equipment *pieces[PIECES];
    dividing_equipment *copy = NULL;
    dividing_workshop *by_calls = NULL, *by_json = NULL, *part = NULL;
    char *wanted = NULL, *found = NULL;
    dividing_piece piece;
    size_t count = 0, place = 0, i;

    memset(pieces, 0, sizeof pieces);
    STATUS(dividing_workshop_from_json(BENCH, Z, &by_json), DIVIDING_STATUS_OK, "BENCH");
    STATUS(dividing_workshop_json(by_json, &wanted), DIVIDING_STATUS_OK, "BENCH");
    if (pieces_by_calls(pieces) == PIECES && wanted != NULL) {
        const dividing_equipment *all[PIECES];
        memcpy(all, pieces, sizeof all);
        STATUS(dividing_workshop_new("Bench", all, PIECES, &by_calls), DIVIDING_STATUS_OK,
               "by calls");
        check_same(dividing_workshop_json(by_calls, &found), &found, wanted, "by calls");
        /* Five pieces, then the rest: the same workshop. */
        dividing_workshop_free(by_calls);
        by_calls = NULL;
        STATUS(dividing_workshop_new("Bench", all, 5, &part), DIVIDING_STATUS_OK, "five");
        STATUS(dividing_workshop_with(part, all + 5, PIECES - 5, &by_calls),
               DIVIDING_STATUS_OK, "the rest");
        check_same(dividing_workshop_json(by_calls, &found), &found, wanted, "in two steps");
        dividing_workshop_free(part);
        part = NULL;
        STATUS(dividing_workshop_new("Bench", all + 11, 1, &part), DIVIDING_STATUS_NOT_FOUND,
               "a stack without its members");
        STATUS(dividing_workshop_with(by_calls, all, 1, &part), DIVIDING_STATUS_DUPLICATE,
               "a piece twice");
        CHECK(part == NULL, "an output touched on failure");

        STATUS(dividing_workshop_count(by_calls, &count), DIVIDING_STATUS_OK, "count");
        CHECK(count == PIECES, "count");
        for (i = 0; i < count; i++) {
            STATUS(dividing_workshop_piece(by_calls, i, &piece), DIVIDING_STATUS_OK, "piece");
            STATUS(dividing_workshop_find(by_calls, piece.name, &place), DIVIDING_STATUS_OK,
                   piece.name);
            CHECK(place == i, piece.name);
            /* A copy as JSON makes the same piece again. */
            STATUS(dividing_workshop_equipment(by_calls, i, &copy), DIVIDING_STATUS_OK,
                   piece.name);
            STATUS(dividing_equipment_json(copy, &found), DIVIDING_STATUS_OK, piece.name);
            dividing_equipment_free(copy);
            copy = NULL;
            STATUS(dividing_equipment_from_json(found, Z, &copy), DIVIDING_STATUS_OK, found);
            dividing_text_free(found);
            dividing_equipment_free(copy);
            copy = NULL;
            found = NULL;
        }
        STATUS(dividing_workshop_piece(by_calls, PIECES, &piece), DIVIDING_STATUS_NOT_FOUND,
               "a piece too many");
        STATUS(dividing_workshop_find(by_calls, "nothing", &place), DIVIDING_STATUS_NOT_FOUND,
               "a name too many");
    }
    for (i = 0; i < PIECES; i++) {
        dividing_equipment_free(pieces[i]);
    }
    dividing_text_free(wanted);
    dividing_workshop_free(by_calls);
    dividing_workshop_free(by_json);
}

/* Fields that do not make sense are named. */
static void refusals(void) {
    dividing_faced_block block;
    dividing_graduated_dial dial;
    dividing_sine_bar bar;
    dividing_equipment *piece = NULL;
    memset(&block, 0, sizeof block);
    block.faces = 4;
    STATUS(dividing_equipment_faced_block(&block, &piece), DIVIDING_STATUS_NULL_POINTER,
           "no name");
    CHECK(strcmp(dividing_last_error_field(), "faced_block.name") == 0, dividing_last_error_field());
    block.name = "block";
    block.faces = 2;
    STATUS(dividing_equipment_faced_block(&block, &piece), DIVIDING_STATUS_OUT_OF_RANGE,
           "two faces");
    CHECK(strcmp(dividing_last_error_field(), "faced_block.faces") == 0,
          dividing_last_error_field());
    block.faces = 4;
    block.face_error.numerator = 1;
    STATUS(dividing_equipment_faced_block(&block, &piece), DIVIDING_STATUS_OUT_OF_RANGE,
           "1/0 turn");
    CHECK(strcmp(dividing_last_error_field(), "faced_block.face_error.denominator") == 0,
          dividing_last_error_field());
    memset(&dial, 0, sizeof dial);
    dial.name = "dial";
    dial.graduations = 100;
    STATUS(dividing_equipment_graduated_dial(&dial, &piece), DIVIDING_STATUS_OUT_OF_RANGE,
           "worm ratio 0/0");
    dial.worm_ratio.numerator = 40;
    dial.worm_ratio.denominator = 1;
    dial.sense = 2;
    STATUS(dividing_equipment_graduated_dial(&dial, &piece), DIVIDING_STATUS_OUT_OF_RANGE,
           "sense 2");
    memset(&bar, 0, sizeof bar);
    bar.name = "bar";
    bar.length_mm = (double)NAN;
    bar.block_set = "metric_87";
    STATUS(dividing_equipment_sine_bar(&bar, &piece), DIVIDING_STATUS_NOT_FINITE, "NaN");
    bar.length_mm = 100;
    bar.block_set = "metric_0";
    STATUS(dividing_equipment_sine_bar(&bar, &piece), DIVIDING_STATUS_INVALID_FIELD, "set");
    STATUS(dividing_equipment_from_json("{\"faced_block\":{\"name\":\"b\",\"faces\":2}}", Z,
                                        &piece),
           DIVIDING_STATUS_OUT_OF_RANGE, "two faces in JSON");
    CHECK(piece == NULL, "an output touched on failure");
}

/* Jobs by calls are those of the documents. */
static void jobs(void) {
    static const dividing_fraction list[] = {{0, 1}, {7, 144}};
    static const uint32_t chords[] = {2};
    dividing_equal_divisions divisions;
    dividing_bolt_circle circle;
    dividing_flats flats;
    dividing_slots slots;
    dividing_teeth teeth;
    dividing_graduations lines;
    dividing_angle_list angles;
    dividing_job_terms terms;
    dividing_flats_measures flats_measures;
    dividing_slots_measures slots_measures;
    dividing_teeth_measures teeth_measures;
    dividing_job *by_calls[8];
    static const char *const documents[] = {
        "{\"format\":1,\"name\":\"j\",\"features\":{\"equal_divisions\":{\"count\":9,"
        "\"called\":\"slot\"}},\"start\":\"on_a_setting\",\"tolerance\":{\"angle\":\"0.05 deg\"}}",
        "{\"format\":1,\"name\":\"j\",\"features\":{\"bolt_circle\":{\"count\":6,"
        "\"pitch_radius\":30,\"first_angle\":\"15 deg\",\"chord_checks\":[2]}},"
        "\"tolerance\":{\"position_diameter\":{\"diameter\":0.1,\"radius\":30}}}",
        "{\"format\":1,\"name\":\"j\",\"features\":{\"flats\":{\"count\":6,"
        "\"across_flats\":17,\"stock_diameter\":20}},"
        "\"tolerance\":{\"angular_class\":{\"class\":\"fine_or_medium\",\"shorter_side\":10}}}",
        "{\"format\":1,\"name\":\"j\",\"features\":{\"slots\":{\"count\":6,\"width\":3,"
        "\"depth\":2,\"outside_diameter\":40}},\"units\":{\"length\":\"inch\"}}",
        "{\"format\":1,\"name\":\"j\",\"features\":{\"teeth\":{\"count\":40,"
        "\"size\":{\"module\":1.5}}},\"tolerance\":{\"pitch\":{\"single\":\"0.01 deg\"}}}",
        "{\"format\":1,\"name\":\"j\",\"features\":{\"graduations\":{\"count\":100,"
        "\"middle_every\":5}},\"units\":{\"angle\":\"degrees_minutes_seconds\"}}",
        "{\"format\":1,\"name\":\"j\",\"features\":{\"angles\":{\"angles\":[\"0 deg\","
        "\"17.5 deg\"],\"called\":\"detent\"}},\"start\":{\"clocked\":{\"to\":\"keyway\","
        "\"at\":\"90 deg\"}}}",
        "{\"format\":1,\"name\":\"j\",\"features\":{\"equal_divisions\":{\"count\":9,"
        "\"called\":\"slot\"}},\"tolerance\":{\"angle\":\"0.05 deg\"},"
        "\"decision_rule\":{\"guard_band\":{\"multiple\":1.5}},\"part_eccentricity\":{"
        "\"eccentricity\":0.02,\"located_from\":\"parts_own_round\",\"feature_radius\":20}}"};
    enum { JOBS = sizeof documents / sizeof documents[0] };
    double x[6], y[6], chord = 0, limit = 0;
    dividing_fraction turns[9];
    size_t i, count = 0;

    memset(by_calls, 0, sizeof by_calls);
    memset(&terms, 0, sizeof terms);
    memset(&divisions, 0, sizeof divisions);
    divisions.count = 9;
    divisions.called = "slot";
    terms.start = DIVIDING_START_RULE_ON_A_SETTING;
    terms.tolerance = DIVIDING_TOLERANCE_KIND_ANGLE;
    terms.angle.numerator = 1;
    terms.angle.denominator = 7200;
    STATUS(dividing_job_equal_divisions("j", &divisions, &terms, &by_calls[0]),
           DIVIDING_STATUS_OK, "divisions");
    memset(&circle, 0, sizeof circle);
    circle.count = 6;
    circle.pitch_radius_mm = 30;
    circle.first_angle.numerator = 1;
    circle.first_angle.denominator = 24;
    circle.chord_checks = chords;
    circle.chord_check_count = 1;
    memset(&terms, 0, sizeof terms);
    terms.tolerance = DIVIDING_TOLERANCE_KIND_POSITION_DIAMETER;
    terms.zone_diameter_mm = 0.1;
    terms.radius_mm = 30;
    STATUS(dividing_job_bolt_circle("j", &circle, &terms, &by_calls[1]), DIVIDING_STATUS_OK,
           "bolt circle");
    memset(&flats, 0, sizeof flats);
    flats.count = 6;
    flats.across_flats_mm = 17;
    flats.stock_diameter_mm = 20;
    memset(&terms, 0, sizeof terms);
    terms.tolerance = DIVIDING_TOLERANCE_KIND_ANGULAR_CLASS;
    terms.angular_class = DIVIDING_ANGLE_CLASS_FINE_OR_MEDIUM;
    terms.shorter_side_mm = 10;
    STATUS(dividing_job_flats("j", &flats, &terms, &by_calls[2]), DIVIDING_STATUS_OK, "flats");
    memset(&slots, 0, sizeof slots);
    slots.count = 6;
    slots.width_mm = 3;
    slots.depth_mm = 2;
    slots.outside_diameter_mm = 40;
    memset(&terms, 0, sizeof terms);
    terms.inches = 1;
    STATUS(dividing_job_slots("j", &slots, &terms, &by_calls[3]), DIVIDING_STATUS_OK, "slots");
    memset(&teeth, 0, sizeof teeth);
    teeth.count = 40;
    teeth.size = 1.5;
    memset(&terms, 0, sizeof terms);
    terms.tolerance = DIVIDING_TOLERANCE_KIND_PITCH;
    terms.single_pitch.numerator = 1;
    terms.single_pitch.denominator = 36000;
    STATUS(dividing_job_teeth("j", &teeth, &terms, &by_calls[4]), DIVIDING_STATUS_OK, "teeth");
    memset(&lines, 0, sizeof lines);
    lines.count = 100;
    lines.middle_every = 5;
    memset(&terms, 0, sizeof terms);
    terms.degrees_minutes_seconds = 1;
    STATUS(dividing_job_graduations("j", &lines, &terms, &by_calls[5]), DIVIDING_STATUS_OK,
           "graduations");
    angles.angles = list;
    angles.count = 2;
    angles.called = "detent";
    memset(&terms, 0, sizeof terms);
    terms.start = DIVIDING_START_RULE_CLOCKED;
    terms.clocked_to = "keyway";
    terms.clocked_at.numerator = 1;
    terms.clocked_at.denominator = 4;
    STATUS(dividing_job_angles("j", &angles, &terms, &by_calls[6]), DIVIDING_STATUS_OK,
           "angles");
    memset(&terms, 0, sizeof terms);
    terms.tolerance = DIVIDING_TOLERANCE_KIND_ANGLE;
    terms.angle.numerator = 1;
    terms.angle.denominator = 7200;
    terms.decision_rule = DIVIDING_JOB_RULE_GUARD_BAND;
    terms.guard_band = 1.5;
    terms.part_eccentricity_mm = 0.02;
    terms.located_from = DIVIDING_LOCATED_FROM_PARTS_OWN_ROUND;
    terms.feature_radius.given = 1;
    terms.feature_radius.mm = 20;
    STATUS(dividing_job_equal_divisions("j", &divisions, &terms, &by_calls[7]),
           DIVIDING_STATUS_OK, "rule and eccentricity");
    for (i = 0; i < JOBS; i++) {
        dividing_job *by_json = NULL;
        char *wanted = NULL, *found = NULL;
        STATUS(dividing_job_from_json(documents[i], Z, &by_json), DIVIDING_STATUS_OK,
               documents[i]);
        if (by_json != NULL && by_calls[i] != NULL) {
            STATUS(dividing_job_json(by_json, &wanted), DIVIDING_STATUS_OK, documents[i]);
            check_same(dividing_job_json(by_calls[i], &found), &found, wanted, documents[i]);
        }
        dividing_text_free(wanted);
        dividing_job_free(by_json);
    }
    STATUS(dividing_job_count(by_calls[0], &count), DIVIDING_STATUS_OK, "count");
    STATUS(dividing_job_feature_angles(by_calls[0], turns, 8), DIVIDING_STATUS_BUFFER_TOO_SMALL,
           "8 places for 9");
    STATUS(dividing_job_feature_angles(by_calls[0], turns, 9), DIVIDING_STATUS_OK, "9 places");
    CHECK(count == 9 && turns[8].numerator == 8 && turns[8].denominator == 9, "8/9 turn");
    STATUS(dividing_job_limit_rad(by_calls[0], &limit), DIVIDING_STATUS_OK, "limit");
    CHECK(within(limit, 0.05 * 3.14159265358979323846 / 180, 1e-15), "0.05 degrees");
    STATUS(dividing_job_limit_rad(by_calls[3], &limit), DIVIDING_STATUS_NOT_FOUND, "no limit");
    /* The side of a regular hexagon is its radius (Euclid, Elements, IV.15). */
    STATUS(dividing_job_chord_mm(by_calls[1], 1, &chord), DIVIDING_STATUS_OK, "chord");
    CHECK(within(chord, 30, 1e-12), "hexagon");
    STATUS(dividing_job_hole_places(by_calls[1], 6, x, y), DIVIDING_STATUS_OK, "places");
    CHECK(within(hypot(x[5] - x[0], y[5] - y[0]), 30, 1e-12), "hexagon, from the last");
    STATUS(dividing_job_hole_places(by_calls[0], 6, x, y), DIVIDING_STATUS_INCONSISTENT,
           "slots are no bolt circle");
    /* (20 - 17) / 2; 40 teeth of module 1.5: 60 and 63 mm. */
    STATUS(dividing_job_flats_measures(by_calls[2], &flats_measures), DIVIDING_STATUS_OK,
           "flats");
    CHECK(within(flats_measures.depth_mm, 1.5, 1e-12), "depth of flat");
    CHECK(within(flats_measures.over_opposite_mm, 17, 1e-12), "across flats");
    STATUS(dividing_job_slots_measures(by_calls[3], &slots_measures), DIVIDING_STATUS_OK,
           "slots");
    CHECK(within(slots_measures.over_bottoms_mm, 36, 1e-12), "over the bottoms");
    STATUS(dividing_job_teeth_measures(by_calls[4], &teeth_measures), DIVIDING_STATUS_OK,
           "teeth");
    CHECK(within(teeth_measures.pitch_diameter_mm, 60, 1e-12), "pitch diameter");
    CHECK(within(teeth_measures.outside_diameter_mm, 63, 1e-12), "outside diameter");
    for (i = 0; i < JOBS; i++) {
        dividing_job_free(by_calls[i]);
    }
}

/* Every kind of setting comes as a record with its fields. */
static void settings(void) {
    static const char *const job =
        "{\"format\":1,\"name\":\"j\",\"features\":{\"angles\":{\"angles\":[\"0 deg\","
        "\"7.25 deg\"]}},\"start\":\"on_a_setting\"}";
    bool seen[16] = {false};
    dividing_workshop *workshop = NULL;
    dividing_job *handle = NULL;
    dividing_plans *plans = NULL, *same = NULL;
    char *wanted = NULL, *found = NULL;
    size_t count = 0, i;
    STATUS(dividing_workshop_from_json(BENCH, Z, &workshop), DIVIDING_STATUS_OK, "BENCH");
    STATUS(dividing_job_from_json(job, Z, &handle), DIVIDING_STATUS_OK, "job");
    STATUS(dividing_plans_of(workshop, handle, 0, NULL, NULL, &plans), DIVIDING_STATUS_OK,
           "plans of handles");
    STATUS(dividing_plans_new(BENCH, Z, job, Z, &same), DIVIDING_STATUS_OK, "plans of JSON");
    STATUS(dividing_plans_json(same, &wanted), DIVIDING_STATUS_OK, "JSON");
    if (wanted != NULL) {
        check_same(dividing_plans_json(plans, &found), &found, wanted, "handles and JSON");
    }
    dividing_text_free(wanted);
    dividing_workshop_free(workshop);
    dividing_job_free(handle);
    STATUS(dividing_plans_count(plans, &count), DIVIDING_STATUS_OK, "count");
    for (i = 0; i < count; i++) {
        dividing_plan plan;
        dividing_setting setting, member;
        STATUS(dividing_plans_get(plans, i, &plan), DIVIDING_STATUS_OK, "plan");
        STATUS(dividing_plans_step_setting(plans, i, 1, &setting), DIVIDING_STATUS_OK,
               plan.method);
        CHECK(setting.kind != DIVIDING_SETTING_KIND_OTHER, plan.method);
        seen[setting.kind] = true;
        if (setting.kind == DIVIDING_SETTING_KIND_SINE_BAR) {
            size_t blocks = 0, b;
            double sizes[16], height = 0;
            dividing_setting zero;
            double from, to;
            /* From the first feature's tilt to the second's are 7.25 degrees, to
             * the set's step of 0.001 mm on each of two heights on 100 mm. */
            STATUS(dividing_plans_step_setting(plans, i, 0, &zero), DIVIDING_STATUS_OK,
                   "first feature");
            from = asin(zero.height_mm / 100) * (zero.reversed ? -1 : 1);
            to = asin(setting.height_mm / 100) * (setting.reversed ? -1 : 1);
            CHECK(within(fabs(to - from), 7.25 * 3.14159265358979323846 / 180, 2e-5),
                  "tilt of the bar");
            CHECK(setting.stack_count == 1, "one stack");
            STATUS(dividing_plans_step_block_count(plans, i, 1, 0, 0, &blocks),
                   DIVIDING_STATUS_OK, "blocks");
            STATUS(dividing_plans_step_blocks(plans, i, 1, 0, 0, sizes, 0),
                   DIVIDING_STATUS_BUFFER_TOO_SMALL, "no room");
            STATUS(dividing_plans_step_blocks(plans, i, 1, 0, 0, sizes, 16),
                   DIVIDING_STATUS_OK, "blocks");
            for (b = 0; b < blocks; b++) {
                height += sizes[b];
            }
            CHECK(within(height, setting.height_mm, 1e-9), "the blocks make the height");
            STATUS(dividing_plans_step_block_count(plans, i, 1, 9, 0, &blocks),
                   DIVIDING_STATUS_NOT_FOUND, "stack 9");
        } else if (setting.kind == DIVIDING_SETTING_KIND_ANGLE_STACK) {
            uint32_t plus[16], minus[16], b;
            int64_t seconds = 0;
            STATUS(dividing_plans_step_angle_blocks(plans, i, 1, 0, plus, 16),
                   DIVIDING_STATUS_OK, "plus");
            STATUS(dividing_plans_step_angle_blocks(plans, i, 1, 1, minus, 16),
                   DIVIDING_STATUS_OK, "minus");
            for (b = 0; b < setting.plus_count; b++) {
                seconds += plus[b];
            }
            for (b = 0; b < setting.minus_count; b++) {
                seconds -= minus[b];
            }
            CHECK(seconds == 26100, "7.25 degrees are 26100 seconds");
        } else if (setting.kind == DIVIDING_SETTING_KIND_STACK) {
            CHECK(setting.member_count == 2, "a block on a bar");
            STATUS(dividing_plans_step_member(plans, i, 1, 0, &member), DIVIDING_STATUS_OK,
                   "first member");
            CHECK(member.kind == DIVIDING_SETTING_KIND_FACE_DOWN ||
                      member.kind == DIVIDING_SETTING_KIND_FACES_IN_VEE,
                  "a faced block");
            STATUS(dividing_plans_step_member(plans, i, 1, 1, &member), DIVIDING_STATUS_OK,
                   "second member");
            CHECK(member.kind == DIVIDING_SETTING_KIND_SINE_BAR, "a sine bar");
            STATUS(dividing_plans_step_member(plans, i, 1, 2, &member),
                   DIVIDING_STATUS_NOT_FOUND, "third member");
        } else if (setting.kind == DIVIDING_SETTING_KIND_INCLINATION) {
            CHECK(setting.table.numerator == 29 && setting.table.denominator == 1440,
                  "7.25 degrees are 29/1440 turn");
        }
    }
    CHECK(seen[DIVIDING_SETTING_KIND_SINE_BAR] && seen[DIVIDING_SETTING_KIND_ANGLE_STACK] &&
              seen[DIVIDING_SETTING_KIND_STACK] && seen[DIVIDING_SETTING_KIND_INCLINATION] &&
              seen[DIVIDING_SETTING_KIND_CRANK] && seen[DIVIDING_SETTING_KIND_HOLE],
          "kinds of settings");
    dividing_plans_free(plans);
    dividing_plans_free(same);
}

void test_equipment(void) {
    workshops();
    refusals();
    jobs();
    settings();
}
