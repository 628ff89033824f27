/*
 * Error: how far off six features on a 12-hole plate may be, what dominates,
 * how likely the drawing is met, and the least pitch radius that would do.
 *
 *     error
 */
#include "common.h"

static const char *const WORKSHOP =
    "{\"format\":1,\"name\":\"Bench\",\"equipment\":[{\"direct_plate\":{\"name\":\"plate\","
    "\"circles\":[{\"holes\":12,\"pitch_radius\":50}],\"registration\":{\"pin_diameter\":5.98,"
    "\"hole_diameter\":6,\"hole_position_tolerance\":0.02}}}]}";
static const char *const JOB =
    "{\"format\":1,\"name\":\"Six slots\",\"features\":{\"equal_divisions\":{\"count\":6,"
    "\"called\":\"slot\"}},\"tolerance\":{\"angle\":\"0.05 deg\"}}";

int main(void) {
    dividing_plans *plans = NULL;
    dividing_error_model *model = NULL;
    dividing_budget *budget = NULL;
    dividing_simulation *simulation = NULL;
    dividing_simulation_report *report = NULL;
    dividing_simulation_summary summary;
    dividing_trade_off trade;
    dividing_run run;
    char *text = NULL;
    int done = good(dividing_plans_new(WORKSHOP, DIVIDING_NUL_ENDED, JOB, DIVIDING_NUL_ENDED,
                                       &plans)) &&
               good(dividing_error_model_new(plans, 0, 0, NULL, NULL, &model)) &&
               good(dividing_error_model_budget(model, 0, DIVIDING_COVERAGE_PROBABILITY, 0.95,
                                                &budget)) &&
               show(dividing_budget_text(budget, &text), &text);
    memset(&run, 0, sizeof run);
    run.trials = 100000;
    run.threads = 2;
    run.seeded = 1; /* the same parts every time */
    run.seed = 1;
    done = done && good(dividing_error_model_simulation(model, &simulation)) &&
           good(dividing_simulation_run(simulation, &run, 0, NULL, NULL, &report)) &&
           good(dividing_simulation_report_get(report, &summary)) &&
           good(dividing_error_model_trade_off(model, DIVIDING_CRITERION_WORST_CASE, 0, &trade));
    if (done) {
        printf("\n%.1f %% of %u simulated parts hold the tolerance\n",
               100 * summary.all.probability, (unsigned)summary.trials);
        printf("a pitch radius of %.1f mm would do; it is %.1f mm\n", trade.least_lever_mm,
               trade.present_lever_mm);
    }
    dividing_simulation_report_free(report);
    dividing_simulation_free(simulation);
    dividing_budget_free(budget);
    dividing_error_model_free(model);
    dividing_plans_free(plans);
    return done ? EXIT_SUCCESS : EXIT_FAILURE;
}
