//! What the exports are tried with: an argument that a call accepts, so that a
//! refusal is about the one that was spoiled. A new export whose arguments are
//! called and mean the same as those of others needs nothing here. An export
//! whose sample is refused fails the test, which says why it is refused.

const WORKSHOP: &str = include_str!("../../../dividing-core/examples/demo/workshop.json");
const JOB: &str = include_str!("../../../dividing-core/examples/demo/job_1_nine_slots.json");

/// A head for all three ways of indexing, one for 77 by compound indexing and one
/// for 51 by differential indexing.
const HEAD: &str = r#"{"format": 1, "name": "Head", "equipment": [{"worm_head": {"name": "head",
    "worm_ratio": 40, "plates": [{"name": "plate", "circles": [21, 33]}],
    "change_gears": {"gears": [24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100]}}}]}"#;
const COMPOUND_HEAD: &str = r#"{"format": 1, "name": "Head", "equipment": [{"worm_head": {
    "name": "head", "worm_ratio": 40, "plates": [{"name": "plate", "circles": [21, 33]}]}}]}"#;
const DIFFERENTIAL_HEAD: &str = r#"{"format": 1, "name": "Head", "equipment": [{"worm_head": {
    "name": "head", "worm_ratio": 40, "plates": [{"name": "plate", "circles": [15, 16, 18, 20]}],
    "change_gears": {"gears": [24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100]}}}]}"#;
const PINS: &str = r#"{"format": 1, "name": "Pins", "equipment": [{"pin_plate": {"name": "pins",
    "circles": [{"holes": 12, "pitch_radius": 40}]}}]}"#;
const BAR: &str = r#"{"format": 1, "name": "Bar", "equipment": [{"sine_bar": {"name": "bar",
    "length": 100, "blocks": {"named": "metric_87"}}}]}"#;
const WEDGES: &str = r#"{"format": 1, "name": "Wedges", "equipment": [{"angle_blocks": {
    "name": "wedges", "blocks": {"named": "pieces13"}}}]}"#;
const STACK: &str = r#"{"format": 1, "name": "Stack", "equipment": [
    {"faced_block": {"name": "square", "faces": 4}},
    {"sine_bar": {"name": "bar", "length": 100, "blocks": {"named": "metric_87"}}},
    {"stack": {"name": "tilted", "members": ["square", "bar"]}}]}"#;
const PLATE: &str = r#"{"format": 1, "name": "Plates", "equipment": [{"direct_plate": {
    "name": "plate", "circles": [{"holes": 6, "pitch_radius": 50}]}}]}"#;
const BRIEF: &str = r#"{"format": 1, "divisions": [5, 6], "outline": {"disc": {"diameter": 100}},
    "hole_diameter": 6, "least_web": 2, "least_edge_distance": 3}"#;
const SMALL_BRIEF: &str = r#"{"format": 1, "divisions": [5, 6, 7, 8, 9, 12],
    "outline": {"disc": {"diameter": 40}}, "hole_diameter": 6, "least_web": 2,
    "least_edge_distance": 3}"#;
const RING: &str = r#"{"format": 1, "readings": {"deviations": {"places": 6,
    "standard_uncertainty_arcsec": 0.5, "readings": [
    {"place": 0, "deviation_arcsec": 2}, {"place": 1, "deviation_arcsec": -1},
    {"place": 2, "deviation_arcsec": 0}, {"place": 3, "deviation_arcsec": 1},
    {"place": 4, "deviation_arcsec": -3}, {"place": 5, "deviation_arcsec": 1}]}}}"#;
const POINTS: &str = r#"{"format": 1, "readings": {"coordinates": {"places": 4, "axis": [0, 0],
    "nominal_radius": 50,
    "points": [{"place": 0, "x": 50.01, "y": 0}, {"place": 1, "x": 0, "y": 50},
    {"place": 2, "x": -50, "y": 0}, {"place": 3, "x": 0, "y": -50}]}}}"#;
const CLOSURE: &str = r#"{"format": 1, "readings": {"closure": {"positions": 3,
    "standard_uncertainty_arcsec": 0.2, "setups": [
    {"shift": 0, "readings_arcsec": [1, 2, 3]}, {"shift": 1, "readings_arcsec": [2, 3, 1]},
    {"shift": 2, "readings_arcsec": [3, 1, 2]}]}}}"#;
const STATIONS: &str = r#"{"format": 1, "readings": {"stations": {
    "stations": ["0 deg", "33 deg", "70 deg"], "standard_uncertainty_arcsec": 2, "readings": [
    {"place": 0, "angle": "0 deg"}, {"place": 1, "angle": "33.0016 deg"},
    {"place": 2, "angle": "70 deg"}]}}}"#;
/// What dividing_design_pattern makes of two small divisions on one ring.
const PATTERN: &str = include_str!("pattern.json");
const BUDGET: &str = r#"{"quantity": "length", "unit": "mm", "estimate": 50, "inputs": [
    {"name": "block", "unit": "mm", "standard_uncertainty": 0.003,
     "sensitivity": 1}], "coverage": {"factor": 2}}"#;

/// A handle made from another sample than the usual one: start of the function's
/// name, the handle, and the ending by which the texts of its maker are found.
const VARIANTS: &[(&str, &str, &str)] = &[
    ("dividing_job_flats_measures", "dividing_job", "_flats"),
    ("dividing_job_slots_measures", "dividing_job", "_slots"),
    ("dividing_job_teeth_measures", "dividing_job", "_teeth"),
    ("dividing_job_hole_places", "dividing_job", "_holes"),
    ("dividing_job_chord_mm", "dividing_job", "_holes"),
    ("dividing_plans_step_block", "dividing_plans", "_bar"),
    (
        "dividing_plans_step_angle_blocks",
        "dividing_plans",
        "_wedges",
    ),
    ("dividing_plans_step_member", "dividing_plans", "_stack"),
    ("dividing_plans_compound", "dividing_plans", "_compound"),
    (
        "dividing_plans_differential",
        "dividing_plans",
        "_differential",
    ),
    (
        "dividing_indexing_table_new_held",
        "dividing_workshop",
        "_pins",
    ),
    (
        "dividing_indexing_table_held",
        "dividing_indexing_table",
        "_held",
    ),
    (
        "dividing_indexing_table_copy_held",
        "dividing_indexing_table",
        "_held",
    ),
    ("dividing_indexing_table_new", "dividing_workshop", "_head"),
    ("dividing_design_shortfall", "dividing_design", "_small"),
    (
        "dividing_inspection_new_closure",
        "dividing_measurement",
        "_closure",
    ),
    (
        "dividing_inspection_closure",
        "dividing_inspection",
        "_closure",
    ),
    (
        "dividing_inspection_device",
        "dividing_inspection",
        "_closure",
    ),
    (
        "dividing_inspection_offsets",
        "dividing_inspection",
        "_closure",
    ),
    (
        "dividing_inspection_new_points",
        "dividing_measurement",
        "_points",
    ),
    (
        "dividing_inspection_circle",
        "dividing_inspection",
        "_points",
    ),
    (
        "dividing_inspection_eccentricity",
        "dividing_inspection",
        "_points",
    ),
    (
        "dividing_inspection_check_position",
        "dividing_inspection",
        "_points",
    ),
    (
        "dividing_inspection_check_position",
        "dividing_measurement",
        "_points",
    ),
    (
        "dividing_inspection_position_checks",
        "dividing_inspection",
        "_points",
    ),
    (
        "dividing_inspection_position_checks",
        "dividing_measurement",
        "_points",
    ),
    (
        "dividing_equipment_best_pin_pairs",
        "dividing_equipment",
        "_pins",
    ),
    ("dividing_stepping_table_new", "dividing_workshop", "_head"),
    (
        "dividing_inspection_new_stations",
        "dividing_measurement",
        "_stations",
    ),
    (
        "dividing_inspection_station",
        "dividing_inspection",
        "_stations",
    ),
    (
        "dividing_inspection_into_workshop",
        "dividing_workshop",
        "_plate",
    ),
];

/// The ending of the handle for a function, empty for the usual one.
pub fn variant(function: &str, handle: &str) -> &'static str {
    VARIANTS
        .iter()
        .find(|(start, name, _)| function.starts_with(start) && handle == *name)
        .map_or("", |it| it.2)
}

/// Every ending of a handle, the usual one first.
pub fn variants(handle: &str) -> Vec<&'static str> {
    let mut found = vec![""];
    for (_, name, ending) in VARIANTS {
        if handle == *name && !found.contains(ending) {
            found.push(ending);
        }
    }
    found
}

/// Start of the function's name, the argument, the text. The first that fits
/// counts.
const TEXTS: &[(&str, &str, &str)] = &[
    ("dividing_angle_", "text", "22.5 deg"),
    ("dividing_length_", "text", "6 mm"),
    ("dividing_fit_parse", "text", "6 mm H7/g6"),
    ("", "fit", "H7/g6"),
    ("", "class_name", "H7"),
    ("", "hole_class", "H7"),
    ("", "pin_class", "g6"),
    ("dividing_plans_new_bar", "workshop", BAR),
    ("dividing_plans_new_wedges", "workshop", WEDGES),
    ("dividing_plans_new_stack", "workshop", STACK),
    ("dividing_plans_new_compound", "workshop", COMPOUND_HEAD),
    (
        "dividing_plans_new_differential",
        "workshop",
        DIFFERENTIAL_HEAD,
    ),
    (
        "dividing_plans_new_compound",
        "job",
        r#"{"format": 1, "name": "77", "features": {"equal_divisions": {"count": 77}}}"#,
    ),
    (
        "dividing_plans_new_differential",
        "job",
        r#"{"format": 1, "name": "51", "features": {"equal_divisions": {"count": 51}}}"#,
    ),
    ("", "workshop", WORKSHOP),
    ("", "job", JOB),
    (
        "dividing_equipment_from_json_pins",
        "json",
        r#"{"pin_plate": {"name": "pins", "circles": [{"holes": 12, "pitch_radius": 40}],
            "registration": {"pin_diameter": 5.99, "hole_diameter": 6,
            "hole_position_tolerance": 0.02}}}"#,
    ),
    (
        "dividing_equipment_from_json",
        "json",
        r#"{"faced_block": {"name": "hexagon", "faces": 6}}"#,
    ),
    ("dividing_workshop_from_json_head", "json", HEAD),
    ("dividing_workshop_from_json_pins", "json", PINS),
    ("dividing_workshop_from_json_plate", "json", PLATE),
    ("dividing_workshop_from_json", "json", WORKSHOP),
    (
        "dividing_job_from_json_flats",
        "json",
        r#"{"format": 1, "name": "j", "features": {"flats": {"count": 6, "across_flats": 20,
            "stock_diameter": 22}}}"#,
    ),
    (
        "dividing_job_from_json_slots",
        "json",
        r#"{"format": 1, "name": "j", "features": {"slots": {"count": 6, "width": 3, "depth": 2,
            "outside_diameter": 40}}}"#,
    ),
    (
        "dividing_job_from_json_teeth",
        "json",
        r#"{"format": 1, "name": "j", "features": {"teeth": {"count": 40, "size": {"module": 1}}}}"#,
    ),
    (
        "dividing_job_from_json_holes",
        "json",
        r#"{"format": 1, "name": "j", "features": {"bolt_circle": {"count": 6,
            "pitch_radius": 30}}}"#,
    ),
    ("dividing_job_from_json", "json", JOB),
    ("dividing_design_new_small", "brief", SMALL_BRIEF),
    ("", "brief", BRIEF),
    ("dividing_measurement_from_json_stations", "json", STATIONS),
    ("dividing_pattern_from_json", "json", PATTERN),
    ("dividing_measurement_from_json_closure", "json", CLOSURE),
    ("dividing_measurement_from_json_points", "json", POINTS),
    ("dividing_measurement_from_json", "json", RING),
    ("", "csv", "place,angle_deg\n0,0\n1,60.01\n2,120\n"),
    ("dividing_budget_of_model", "model", BUDGET),
    (
        "dividing_simulation_from_json",
        "json",
        r#"{"features": [{"angle_rad": 0, "residual_rad": 0, "inputs": []}],
            "whole_turn": true}"#,
    ),
    ("dividing_block_set_named", "name", "metric_87"),
    ("dividing_workshop_find", "name", "dividing head 40:1"),
    ("dividing_error_model_allowance", "name", "worm and wheel"),
    ("dividing_loosest_limit", "name", "hole position"),
];

/// Texts that may be NULL and are: the function, the argument.
const NOT_GIVEN: &[(&str, &str)] = &[("dividing_angle_block_stack", "set")];

/// Whether the text for an argument is NULL.
pub fn not_given(function: &str, argument: &str) -> bool {
    NOT_GIVEN.contains(&(function, argument))
}

/// The text for an argument.
pub fn text(function: &str, argument: &str) -> &'static str {
    TEXTS
        .iter()
        .find(|(start, name, _)| function.starts_with(start) && argument == *name)
        .map_or("{}", |it| it.2)
}

/// Start of the function's name, the argument, the number.
const NUMBERS: &[(&str, &str, f64)] = &[
    ("", "divisions", 9.0),
    ("dividing_range_constants", "places", 5.0),
    ("", "conformance", 0.95),
    ("", "holes", 18.0),
    ("", "worm_turns", 40.0),
    ("", "count", 6.0),
    ("", "radius_mm", 30.0),
    ("", "hole_radius_mm", 30.0),
    ("", "eccentricity_mm", 0.01),
    ("", "pin_radius_mm", 30.0),
    ("", "reference_diameter_mm", 60.0),
    ("", "stock_diameter_mm", 24.0),
    ("", "across_flats_mm", 20.0),
    ("", "clearance_mm", 0.02),
    ("", "position_mm", 0.05),
    ("", "nominal_mm", 6.0),
    ("", "length_mm", 100.0),
    ("dividing_block_", "height_mm", 41.125),
    ("", "first", 2.0),
    ("", "last", 20.0),
    ("", "positions", 12.0),
    ("", "reading_uncertainty_rad", 1e-6),
    ("", "wanted_uncertainty_rad", 5e-7),
    ("", "graduation_rad", 1e-5),
    ("", "limit_rad", 0.001),
    ("", "present_mm", 50.0),
    ("", "coverage_factor", 2.0),
    // A limit of 0 is the usual one; an index begins at 0.
    ("", "work_limit", 0.0),
    ("", "plan", 0.0),
    ("dividing_plans_step_block", "step", 1.0),
    ("dividing_plans_step_angle_blocks", "step", 1.0),
    ("", "step", 0.0),
    ("", "stack", 0.0),
    ("", "low", 0.0),
    ("", "minus", 0.0),
    ("", "member", 0.0),
    ("", "way", 0.0),
    ("", "style", 0.0),
    ("dividing_stepping_table_compound", "index", 1.0),
    ("dividing_stepping_table_copy_compound", "index", 1.0),
    ("dividing_stepping_table_differential", "index", 2.0),
    ("dividing_stepping_table_copy_differential", "index", 2.0),
    ("dividing_indexing_table_compound", "index", 1.0),
    ("dividing_indexing_table_copy_compound", "index", 1.0),
    ("dividing_indexing_table_differential", "index", 2.0),
    ("dividing_indexing_table_copy_differential", "index", 2.0),
    ("", "index", 0.0),
    ("", "feature", 0.0),
    ("", "device", 0.0),
    ("", "about", 0.0),
    ("", "piece", 0.0),
    ("", "circle", 0.0),
    ("", "from", 0.0),
    ("", "quantity", 0.0),
    ("", "criterion", 0.0),
    ("", "inches", 0.0),
    ("", "loose", 0.0),
];

/// The number for an argument: 1 unless listed.
pub fn number(function: &str, argument: &str) -> f64 {
    NUMBERS
        .iter()
        .find(|(start, name, _)| function.starts_with(start) && argument == *name)
        .map_or(1.0, |it| it.2)
}

/// Entries of an array that goes in.
pub const ENTRIES: usize = 6;

/// Start of the function's name, the length, how much.
const LENGTHS: &[(&str, &str, usize)] = &[
    ("dividing_workshop_with", "count", 1),
    ("dividing_workshop_new", "count", 1),
    ("dividing_measurement_closure", "reading_count", 36),
    ("dividing_inspection_choose_start", "count", 3),
    ("dividing_plunger_", "capacity", 1),
    ("dividing_bar_", "capacity", 1),
    ("", "capacity", 64),
];

/// How much a length counts: the entries of an array unless listed.
pub fn length(function: &str, argument: &str) -> usize {
    LENGTHS
        .iter()
        .find(|(start, name, _)| function.starts_with(start) && argument == *name)
        .map_or(ENTRIES, |it| it.2)
}

/// What the structs below point to.
pub const POINTED_AT: &str = "\
static const uint32_t sample_gears[] = {20, 24, 28, 30, 32, 40, 44, 48, 56, 60, 72, 86, 90, 100};
static const dividing_hole_circle sample_circles[] = {{.holes = 24, .pitch_radius = {1, 50}}};
static const dividing_plate_circle sample_plate_circles[] = {
    {.holes = 18, .pitch_radius = {1, 60}}};
static const dividing_index_plate sample_plates[] = {
    {.name = \"plate\", .circles = sample_plate_circles, .circle_count = 1}};
static const dividing_pin_in_hole sample_pin = {
    .pin_diameter_mm = 5.98, .hole_diameter_mm = 6, .hole_position_tolerance_mm = 0.02};
static const dividing_fraction sample_angles[] = {{0, 1}, {1, 10}};
static const dividing_fraction sample_step[] = {{1, 10}};
static const char *const sample_members[] = {\"square\", \"bar\"};
static const uint64_t sample_divisions[] = {5, 6};
static const double sample_large[] = {50}, sample_small[] = {0.02}, sample_none[] = {0};
static double sample_doubles[5][64];
static uint8_t sample_bytes[5][64];
static uint16_t sample_teeth[6][64];
static uint32_t sample_numbers[5][64];
static int32_t sample_steps[5][64];
static int64_t sample_longs[2][64];
static size_t sample_sizes[64];
";

/// A struct that goes in, as a C initialiser; or each entry of an array.
const STRUCTS: &[(&str, &str)] = &[
    ("dividing_fraction", "{1, 9}"),
    (
        "dividing_direct_plate",
        "{.name = \"plate\", .circles = sample_circles, .circle_count = 1, \
         .registration = &sample_pin}",
    ),
    (
        "dividing_vernier_indexer",
        "{.name = \"indexer\", .circle = {.holes = 36}, .stations = sample_angles, \
         .station_count = 2}",
    ),
    ("dividing_faced_block", "{.name = \"square\", .faces = 4}"),
    (
        "dividing_vee_block",
        "{.name = \"V-block\", .included_angle = {1, 4}}",
    ),
    (
        "dividing_pin_plate",
        "{.name = \"pins\", .circles = sample_circles, .circle_count = 1}",
    ),
    (
        "dividing_worm_head",
        "{.name = \"head\", .worm_ratio = {40, 1}, .plates = sample_plates, .plate_count = 1}",
    ),
    (
        "dividing_graduated_dial",
        "{.name = \"dial\", .worm_ratio = {90, 1}, .graduations = 240}",
    ),
    (
        "dividing_sine_bar",
        "{.name = \"bar\", .length_mm = 100, .block_set = \"metric_87\"}",
    ),
    (
        "dividing_angle_blocks",
        "{.name = \"wedges\", .block_set = \"pieces13\"}",
    ),
    (
        "dividing_protractor",
        "{.name = \"protractor\", .resolution = {1, 4320}}",
    ),
    (
        "dividing_part_reference",
        "{.name = \"stop\", .contact = DIVIDING_CONTACT_FLAT, \
         .from = DIVIDING_FROM_FEATURE_LAST_FEATURE, .angles = sample_step, .angle_count = 1}",
    ),
    (
        "dividing_stack",
        "{.name = \"tilted\", .members = sample_members, .member_count = 2}",
    ),
    ("dividing_equal_divisions", "{.count = 6}"),
    (
        "dividing_bolt_circle",
        "{.count = 6, .pitch_radius_mm = 30}",
    ),
    (
        "dividing_flats",
        "{.count = 6, .across_flats_mm = 20, .stock_diameter_mm = 22}",
    ),
    (
        "dividing_slots",
        "{.count = 6, .width_mm = 3, .depth_mm = 2, .outside_diameter_mm = 40}",
    ),
    ("dividing_teeth", "{.count = 40, .size = 1}"),
    ("dividing_graduations", "{.count = 100}"),
    (
        "dividing_angle_list",
        "{.angles = sample_angles, .count = 2}",
    ),
    (
        "dividing_gears",
        "{.gears = sample_gears, .gear_count = sizeof sample_gears / sizeof sample_gears[0]}",
    ),
    (
        "dividing_helix",
        "{.worm_ratio = {40, 1}, .screw_pitch_mm = {6, 1}, .lead_mm = {480, 1}, \
         .diameter_mm = 50}",
    ),
    (
        "dividing_train",
        "{.pairs = 1, .drivers = {20}, .driven = {60}}",
    ),
    (
        "dividing_plate_brief",
        "{.divisions = sample_divisions, .division_count = 2, .outline_mm = 100, \
         .hole_diameter_mm = 6, .least_web_mm = 2, .least_edge_distance_mm = 3}",
    ),
    ("dividing_hole_table", "{.digits = 3}"),
    (
        "dividing_drilling",
        "{.table = {.digits = 3}, .clearance_height_mm = 5, .depth_mm = 10, \
         .feed_mm_per_minute = 80, .spindle_rpm = 900}",
    ),
    (
        "dividing_error_report_terms",
        "{.coverage = DIVIDING_COVERAGE_FACTOR, .coverage_value = 2}",
    ),
    (
        "dividing_contributor",
        "{.name = \"hole position\", .limit = 0.01, .sensitivity = 0.02}",
    ),
    (
        "dividing_plungers",
        "{{sample_large, 1}, {sample_small, 1}, {sample_small, 1}, {sample_small, 1}, \
         {sample_none, 1}, {sample_none, 1}}",
    ),
    (
        "dividing_bars",
        "{{sample_large, 1}, {sample_small, 1}, {sample_small, 1}, {sample_small, 1}, \
         {sample_none, 1}, {sample_none, 1}}",
    ),
    (
        "dividing_bar_support",
        "{.hole_x_mm = 1, .hole_diameter_mm = 6, .pin_diameter_mm = 5.98}",
    ),
    (
        "dividing_ring_readings",
        "{.name = \"plate\", .places = 6, .radius = {1, 50}, .standard_uncertainty = 0.5, \
         .span = 1, .pin_diameter_mm = 6}",
    ),
    ("dividing_ring_limits", "{.single_pitch_rad = 0.001}"),
    ("dividing_run", "{.trials = 1000, .seeded = 1, .seed = 7}"),
    (
        "dividing_simple_places",
        "{64, sample_bytes[0], sample_numbers[0], sample_bytes[1], sample_numbers[1], \
         sample_numbers[2], sample_numbers[3], sample_doubles[0], sample_doubles[1]}",
    ),
    (
        "dividing_compound_places",
        "{64, sample_bytes[0], sample_numbers[0], sample_bytes[1], sample_steps[0], \
         sample_numbers[1], sample_steps[1], sample_numbers[2], sample_steps[2]}",
    ),
    (
        "dividing_differential_places",
        "{64, sample_bytes[0], sample_numbers[0], sample_bytes[1], sample_numbers[1], \
         sample_longs[0], sample_numbers[2], sample_bytes[2], sample_bytes[3], \
         {sample_teeth[0], sample_teeth[1], sample_teeth[2]}, \
         {sample_teeth[3], sample_teeth[4], sample_teeth[5]}}",
    ),
    (
        "dividing_held_places",
        "{64, sample_bytes[0], sample_numbers[0], sample_doubles[0]}",
    ),
    (
        "dividing_stepping_places",
        "{64, sample_doubles[0], sample_doubles[1], sample_doubles[2]}",
    ),
    (
        "dividing_several_divisions_places",
        "{64, sample_numbers[0], sample_numbers[1], sample_bytes[0], sample_numbers[2], \
         sample_numbers[3], sample_numbers[4], sample_doubles[0], sample_doubles[1], \
         sample_doubles[2]}",
    ),
    (
        "dividing_hole_places",
        "{64, sample_numbers[0], sample_numbers[1], sample_longs[0], sample_longs[1], \
         sample_doubles[0], sample_doubles[1]}",
    ),
    (
        "dividing_deviation_places",
        "{64, sample_sizes, sample_doubles[0], sample_doubles[1], sample_doubles[2]}",
    ),
    (
        "dividing_feature_places",
        "{64, sample_doubles[0], sample_doubles[1], sample_doubles[2], sample_doubles[3]}",
    ),
];

/// A struct by value that is not as its others: the function, the argument.
const VALUES: &[(&str, &str, &str)] = &[
    ("dividing_angle_block_stack", "tolerance", "{0, 1}"),
    ("dividing_ways_setting", "turns", "{0, 1}"),
    (
        "dividing_bar_tilt",
        "second",
        "{.hole_x_mm = 51, .hole_diameter_mm = 6, .pin_diameter_mm = 5.98}",
    ),
];

/// The initialiser for a struct by value.
pub fn value(function: &str, argument: &str, name: &str) -> &'static str {
    VALUES
        .iter()
        .find(|(of, called, _)| function == *of && argument == *called)
        .map_or_else(|| structure(name), |it| it.2)
}

/// The initialiser for a struct.
pub fn structure(name: &str) -> &'static str {
    STRUCTS
        .iter()
        .find(|(it, _)| *it == name)
        .map_or("{0}", |it| it.1)
}

/// The argument and the entries of an array of plain numbers.
const ARRAYS: &[(&str, &str)] = &[
    ("places", "{0, 1, 2, 3, 4, 5}"),
    ("shifts", "{0, 1, 2, 3, 4, 5}"),
    ("pattern", "{0, 2, 4, 0, 0, 0}"),
    ("x_mm", "{50, 25, -25, -50, -25, 25}"),
    ("y_mm", "{0, 43.3, 43.3, 0, -43.3, -43.3}"),
    (
        "x_uncertainty_mm",
        "{0.001, 0.001, 0.001, 0.001, 0.001, 0.001}",
    ),
    (
        "y_uncertainty_mm",
        "{0.001, 0.001, 0.001, 0.001, 0.001, 0.001}",
    ),
    ("over_pins_mm", "{56, 56, 56, 56, 56, 56}"),
    ("blocks_arcsec", "{3600, 10800, 32400, 97200, 60, 180}"),
    ("readings_arcsec", "{[0] = 1, [35] = 2}"),
];

/// An array of plain numbers, `ENTRIES` long, as a C initialiser.
pub fn array(argument: &str) -> &'static str {
    ARRAYS
        .iter()
        .find(|(name, _)| argument == *name)
        .map_or("{1, 2, 3, 4, 5, 6}", |it| it.1)
}
