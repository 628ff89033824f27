/*
 * Every function that returns a status, with NULL for every pointer. Written from
 * the header by tests/nulls.rs: change that, not this file.
 */
#include "suite.h"

#include <string.h>

void test_nulls(void) {
    dividing_bar_support zero_bar_support;
    dividing_fraction zero_fraction;
    dividing_hole_table zero_hole_table;
    dividing_optional_length zero_optional_length;
    memset(&zero_bar_support, 0, sizeof zero_bar_support);
    memset(&zero_fraction, 0, sizeof zero_fraction);
    memset(&zero_hole_table, 0, sizeof zero_hole_table);
    memset(&zero_optional_length, 0, sizeof zero_optional_length);
    STATUS(dividing_angle_parse(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_angle_parse");
    STATUS(dividing_angle_format(zero_fraction, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_angle_format");
    STATUS(dividing_angle_convert(NULL, 0, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_angle_convert");
    STATUS(dividing_angle_nearest(zero_fraction, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_angle_nearest");
    STATUS(dividing_angle_nearest_text(NULL, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_angle_nearest_text");
    STATUS(dividing_angle_add(zero_fraction, zero_fraction, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_angle_add");
    STATUS(dividing_angle_subtract(zero_fraction, zero_fraction, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_angle_subtract");
    STATUS(dividing_angle_multiply(zero_fraction, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_angle_multiply");
    STATUS(dividing_angle_divide(zero_fraction, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_angle_divide");
    STATUS(dividing_angle_within_turn(zero_fraction, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_angle_within_turn");
    STATUS(dividing_angle_from_degrees_rounded(0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_angle_from_degrees_rounded");
    STATUS(dividing_length_parse(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_length_parse");
    STATUS(dividing_workshop_check(NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_workshop_check");
    STATUS(dividing_job_check(NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_check");
    STATUS(dividing_equipment_direct_plate(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_equipment_direct_plate");
    STATUS(dividing_equipment_vernier_indexer(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_equipment_vernier_indexer");
    STATUS(dividing_equipment_faced_block(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_equipment_faced_block");
    STATUS(dividing_equipment_vee_block(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_equipment_vee_block");
    STATUS(dividing_equipment_pin_plate(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_equipment_pin_plate");
    STATUS(dividing_equipment_worm_head(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_equipment_worm_head");
    STATUS(dividing_equipment_graduated_dial(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_equipment_graduated_dial");
    STATUS(dividing_equipment_sine_bar(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_equipment_sine_bar");
    STATUS(dividing_equipment_angle_blocks(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_equipment_angle_blocks");
    STATUS(dividing_equipment_protractor(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_equipment_protractor");
    STATUS(dividing_equipment_part_reference(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_equipment_part_reference");
    STATUS(dividing_equipment_stack(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_equipment_stack");
    STATUS(dividing_equipment_from_json(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_equipment_from_json");
    STATUS(dividing_equipment_name(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_equipment_name");
    STATUS(dividing_equipment_kind(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_equipment_kind");
    STATUS(dividing_equipment_json(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_equipment_json");
    STATUS(dividing_workshop_new(NULL, NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_workshop_new");
    STATUS(dividing_workshop_with(NULL, NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_workshop_with");
    STATUS(dividing_workshop_from_json(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_workshop_from_json");
    STATUS(dividing_workshop_name(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_workshop_name");
    STATUS(dividing_workshop_count(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_workshop_count");
    STATUS(dividing_workshop_piece(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_workshop_piece");
    STATUS(dividing_workshop_find(NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_workshop_find");
    STATUS(dividing_workshop_equipment(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_workshop_equipment");
    STATUS(dividing_workshop_json(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_workshop_json");
    STATUS(dividing_job_equal_divisions(NULL, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_equal_divisions");
    STATUS(dividing_job_bolt_circle(NULL, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_bolt_circle");
    STATUS(dividing_job_flats(NULL, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_flats");
    STATUS(dividing_job_slots(NULL, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_slots");
    STATUS(dividing_job_teeth(NULL, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_teeth");
    STATUS(dividing_job_graduations(NULL, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_graduations");
    STATUS(dividing_job_angles(NULL, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_angles");
    STATUS(dividing_job_from_json(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_from_json");
    STATUS(dividing_job_name(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_name");
    STATUS(dividing_job_count(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_count");
    STATUS(dividing_job_feature_angles(NULL, NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_feature_angles");
    STATUS(dividing_job_limit_rad(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_limit_rad");
    STATUS(dividing_job_json(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_json");
    STATUS(dividing_job_flats_measures(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_flats_measures");
    STATUS(dividing_job_slots_measures(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_slots_measures");
    STATUS(dividing_job_teeth_measures(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_teeth_measures");
    STATUS(dividing_job_hole_places(NULL, 0, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_hole_places");
    STATUS(dividing_job_chord_mm(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_job_chord_mm");
    STATUS(dividing_plans_new(NULL, 0, NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_new");
    STATUS(dividing_plans_new_within(NULL, 0, NULL, 0, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_new_within");
    STATUS(dividing_plans_of(NULL, NULL, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_of");
    STATUS(dividing_plans_count(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_count");
    STATUS(dividing_plans_get(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_get");
    STATUS(dividing_plans_largest_residual(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_largest_residual");
    STATUS(dividing_plans_largest_residual_text(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_largest_residual_text");
    STATUS(dividing_plans_step_required(NULL, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_step_required");
    STATUS(dividing_plans_step_required_text(NULL, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_step_required_text");
    STATUS(dividing_plans_step_attained(NULL, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_step_attained");
    STATUS(dividing_plans_step_attained_text(NULL, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_step_attained_text");
    STATUS(dividing_plans_step_residual(NULL, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_step_residual");
    STATUS(dividing_plans_step_residual_text(NULL, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_step_residual_text");
    STATUS(dividing_plans_step_error(NULL, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_step_error");
    STATUS(dividing_plans_step_setting(NULL, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_step_setting");
    STATUS(dividing_plans_step_setting_text(NULL, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_step_setting_text");
    STATUS(dividing_plans_step_setting_json(NULL, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_step_setting_json");
    STATUS(dividing_plans_json(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_json");
    STATUS(dividing_plans_step_block_count(NULL, 0, 0, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_step_block_count");
    STATUS(dividing_plans_step_blocks(NULL, 0, 0, 0, 0, NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_step_blocks");
    STATUS(dividing_plans_step_angle_blocks(NULL, 0, 0, 0, NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_step_angle_blocks");
    STATUS(dividing_plans_step_member(NULL, 0, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_step_member");
    STATUS(dividing_plans_sheet_text(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_sheet_text");
    STATUS(dividing_plans_sheet_html(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_sheet_html");
    STATUS(dividing_plans_sheet_json(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_sheet_json");
    STATUS(dividing_plans_drawing_svg(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_drawing_svg");
    STATUS(dividing_exact_table_new(NULL, 0, 0, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_exact_table_new");
    STATUS(dividing_exact_table_covers(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_exact_table_covers");
    STATUS(dividing_exact_table_section(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_exact_table_section");
    STATUS(dividing_exact_table_copy(NULL, 0, NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_exact_table_copy");
    STATUS(dividing_exact_table_json(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_exact_table_json");
    STATUS(dividing_indexing_table_new(NULL, 0, 0, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_indexing_table_new");
    STATUS(dividing_indexing_table_covers(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_indexing_table_covers");
    STATUS(dividing_indexing_table_section(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_indexing_table_section");
    STATUS(dividing_indexing_table_simple(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_indexing_table_simple");
    STATUS(dividing_indexing_table_compound(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_indexing_table_compound");
    STATUS(dividing_indexing_table_differential(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_indexing_table_differential");
    STATUS(dividing_indexing_table_held(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_indexing_table_held");
    STATUS(dividing_indexing_table_json(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_indexing_table_json");
    STATUS(dividing_indexing_table_copy_simple(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_indexing_table_copy_simple");
    STATUS(dividing_indexing_table_copy_compound(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_indexing_table_copy_compound");
    STATUS(dividing_indexing_table_copy_differential(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_indexing_table_copy_differential");
    STATUS(dividing_indexing_table_copy_held(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_indexing_table_copy_held");
    STATUS(dividing_trains_new(NULL, zero_fraction, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_trains_new");
    STATUS(dividing_trains_found(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_trains_found");
    STATUS(dividing_trains_copy(NULL, NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_trains_copy");
    STATUS(dividing_train_nearest(NULL, zero_fraction, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_train_nearest");
    STATUS(dividing_train_ratio(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_train_ratio");
    STATUS(dividing_lead_gearing(NULL, NULL, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_lead_gearing");
    STATUS(dividing_plans_differential(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_differential");
    STATUS(dividing_plans_compound(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plans_compound");
    STATUS(dividing_block_set_new(0, NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_block_set_new");
    STATUS(dividing_block_set_named(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_block_set_named");
    STATUS(dividing_block_stack(NULL, 0, 0, zero_optional_length, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_block_stack");
    STATUS(dividing_block_difference(NULL, 0, 0, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_block_difference");
    STATUS(dividing_angle_block_stack(NULL, NULL, 0, zero_fraction, zero_fraction, 0, NULL, NULL, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_angle_block_stack");
    STATUS(dividing_tolerance_class_limits(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_tolerance_class_limits");
    STATUS(dividing_fit_parse(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_fit_parse");
    STATUS(dividing_fit_of(NULL, NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_fit_of");
    STATUS(dividing_design_new(NULL, 0, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_design_new");
    STATUS(dividing_design_of(NULL, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_design_of");
    STATUS(dividing_design_fits(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_design_fits");
    STATUS(dividing_design_shortfall(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_design_shortfall");
    STATUS(dividing_design_shortfall_text(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_design_shortfall_text");
    STATUS(dividing_design_pattern(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_design_pattern");
    STATUS(dividing_design_json(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_design_json");
    STATUS(dividing_pattern_from_json(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_from_json");
    STATUS(dividing_pattern_json(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_json");
    STATUS(dividing_pattern_certificate(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_certificate");
    STATUS(dividing_pattern_check(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_check");
    STATUS(dividing_pattern_ring_count(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_ring_count");
    STATUS(dividing_pattern_ring(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_ring");
    STATUS(dividing_pattern_hole_count(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_hole_count");
    STATUS(dividing_pattern_station_count(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_station_count");
    STATUS(dividing_pattern_holes(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_holes");
    STATUS(dividing_pattern_stations(NULL, NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_stations");
    STATUS(dividing_pattern_csv(NULL, zero_hole_table, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_csv");
    STATUS(dividing_pattern_hole_table_json(NULL, zero_hole_table, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_hole_table_json");
    STATUS(dividing_pattern_check_dimensions_json(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_check_dimensions_json");
    STATUS(dividing_pattern_svg(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_svg");
    STATUS(dividing_pattern_dxf(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_dxf");
    STATUS(dividing_pattern_drill_program(NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_drill_program");
    STATUS(dividing_pattern_into_workshop(NULL, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pattern_into_workshop");
    STATUS(dividing_error_model_new(NULL, 0, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_error_model_new");
    STATUS(dividing_error_model_count(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_error_model_count");
    STATUS(dividing_error_model_feature(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_error_model_feature");
    STATUS(dividing_error_model_contributor(NULL, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_error_model_contributor");
    STATUS(dividing_error_model_unknown(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_error_model_unknown");
    STATUS(dividing_error_model_budget(NULL, 0, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_error_model_budget");
    STATUS(dividing_error_model_simulation(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_error_model_simulation");
    STATUS(dividing_error_model_conformance(NULL, 0, 0, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_error_model_conformance");
    STATUS(dividing_error_model_trade_off(NULL, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_error_model_trade_off");
    STATUS(dividing_error_model_allowance(NULL, 0, 0, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_error_model_allowance");
    STATUS(dividing_error_model_trade_offs_json(NULL, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_error_model_trade_offs_json");
    STATUS(dividing_budget_new(NULL, 0, NULL, 0, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_budget_new");
    STATUS(dividing_budget_of_model(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_budget_of_model");
    STATUS(dividing_budget_result(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_budget_result");
    STATUS(dividing_budget_line(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_budget_line");
    STATUS(dividing_budget_text(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_budget_text");
    STATUS(dividing_budget_html(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_budget_html");
    STATUS(dividing_budget_json(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_budget_json");
    STATUS(dividing_simulation_from_json(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_simulation_from_json");
    STATUS(dividing_simulation_json(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_simulation_json");
    STATUS(dividing_simulation_run(NULL, NULL, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_simulation_run");
    STATUS(dividing_simulation_report_get(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_simulation_report_get");
    STATUS(dividing_simulation_report_quantity(NULL, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_simulation_report_quantity");
    STATUS(dividing_simulation_report_quantiles(NULL, 0, 0, NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_simulation_report_quantiles");
    STATUS(dividing_simulation_report_features(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_simulation_report_features");
    STATUS(dividing_simulation_report_json(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_simulation_report_json");
    STATUS(dividing_simulation_report_svg(NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_simulation_report_svg");
    STATUS(dividing_total_rad(NULL, 0, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_total_rad");
    STATUS(dividing_loosest_limit(NULL, 0, NULL, 0, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_loosest_limit");
    STATUS(dividing_least_radius_mm(NULL, 0, 0, 0, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_least_radius_mm");
    STATUS(dividing_plunger_worst_case_rad(NULL, NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plunger_worst_case_rad");
    STATUS(dividing_plunger_standard_uncertainty_rad(NULL, NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plunger_standard_uncertainty_rad");
    STATUS(dividing_plunger_loosest_clearance_mm(NULL, 0, NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plunger_loosest_clearance_mm");
    STATUS(dividing_plunger_least_pitch_radius_mm(NULL, 0, NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plunger_least_pitch_radius_mm");
    STATUS(dividing_bar_worst_case_rad(NULL, 0, NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_bar_worst_case_rad");
    STATUS(dividing_bar_least_baseline_mm(NULL, 0, NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_bar_least_baseline_mm");
    STATUS(dividing_pin_play(0, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pin_play");
    STATUS(dividing_eccentricity_error(0, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_eccentricity_error");
    STATUS(dividing_bar_tilt(zero_bar_support, zero_bar_support, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_bar_tilt");
    STATUS(dividing_pin_entry(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_pin_entry");
    STATUS(dividing_fit_circle(NULL, NULL, NULL, NULL, 0, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_fit_circle");
    STATUS(dividing_measurement_points(NULL, NULL, NULL, NULL, NULL, NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_measurement_points");
    STATUS(dividing_measurement_angles(NULL, NULL, NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_measurement_angles");
    STATUS(dividing_measurement_deviations(NULL, NULL, NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_measurement_deviations");
    STATUS(dividing_measurement_chords(NULL, NULL, NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_measurement_chords");
    STATUS(dividing_measurement_closure(NULL, NULL, 0, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_measurement_closure");
    STATUS(dividing_measurement_from_csv(NULL, 0, NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_measurement_from_csv");
    STATUS(dividing_measurement_from_json(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_measurement_from_json");
    STATUS(dividing_measurement_json(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_measurement_json");
    STATUS(dividing_inspection_new(NULL, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_new");
    STATUS(dividing_inspection_kind(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_kind");
    STATUS(dividing_inspection_circle(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_circle");
    STATUS(dividing_inspection_eccentricity(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_eccentricity");
    STATUS(dividing_inspection_ring(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_ring");
    STATUS(dividing_inspection_deviations(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_deviations");
    STATUS(dividing_inspection_pitch(NULL, 0, 0, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_pitch");
    STATUS(dividing_inspection_harmonics(NULL, 0, 0, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_harmonics");
    STATUS(dividing_inspection_text(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_text");
    STATUS(dividing_inspection_json(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_json");
    STATUS(dividing_inspection_svg(NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_svg");
    STATUS(dividing_inspection_closure(NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_closure");
    STATUS(dividing_inspection_device(NULL, 0, 0, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_device");
    STATUS(dividing_inspection_offsets(NULL, NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_offsets");
    STATUS(dividing_plan_shifts(0, 0, 0, 0, NULL, NULL, NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_plan_shifts");
    STATUS(dividing_inspection_into_workshop(NULL, 0, NULL, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_into_workshop");
    STATUS(dividing_inspection_measured_json(NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_measured_json");
    STATUS(dividing_inspection_choose_start(NULL, 0, 0, NULL, 0, 0, 0, 0, NULL, NULL, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_choose_start");
    STATUS(dividing_inspection_corrections(NULL, 0, 0, 0, NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_corrections");
    STATUS(dividing_inspection_check(NULL, 0, NULL, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_check");
    STATUS(dividing_inspection_checks(NULL, 0, NULL, 0, NULL, 0),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_checks");
    STATUS(dividing_inspection_pitch_class(NULL, 0, 0, 0, NULL),
           DIVIDING_STATUS_NULL_POINTER, "dividing_inspection_pitch_class");
}
