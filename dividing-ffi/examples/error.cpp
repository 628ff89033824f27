// Error: how far off six features on a 12-hole plate may be, what dominates, how
// likely the drawing is met, and the least pitch radius that would do.
//
//     error
#include "common.hpp"

static const char *const WORKSHOP = R"({"format": 1, "name": "Bench", "equipment": [
    {"direct_plate": {"name": "plate", "circles": [{"holes": 12, "pitch_radius": 50}],
     "registration": {"pin_diameter": 5.98, "hole_diameter": 6,
     "hole_position_tolerance": 0.02}}}]})";
static const char *const JOB = R"({"format": 1, "name": "Six slots", "features":
    {"equal_divisions": {"count": 6, "called": "slot"}}, "tolerance": {"angle": "0.05 deg"}})";

static void error() {
    const auto plans = dividing::call(dividing_plans_new, WORKSHOP, JOB);
    const auto model = dividing::call(dividing_error_model_new, plans, 0, 0, nullptr, nullptr);
    const auto budget = dividing::call(dividing_error_model_budget, model, 0,
                                       DIVIDING_COVERAGE_PROBABILITY, 0.95);
    std::printf("%s", dividing::call(dividing_budget_text, budget).c_str());
    dividing_run settings{};
    settings.trials = 100000;
    settings.threads = 2;
    settings.seeded = 1; // the same parts every time
    settings.seed = 1;
    const auto simulation = dividing::call(dividing_error_model_simulation, model);
    const auto report =
        dividing::call(dividing_simulation_run, simulation, &settings, 0, nullptr, nullptr);
    const auto summary = dividing::call(dividing_simulation_report_get, report);
    const auto trade = dividing::call(dividing_error_model_trade_off, model,
                                      DIVIDING_CRITERION_WORST_CASE, 0);
    std::printf("\n%.1f %% of %u simulated parts hold the tolerance\n",
                100 * summary.all.probability, static_cast<unsigned>(summary.trials));
    std::printf("a pitch radius of %.1f mm would do; it is %.1f mm\n", trade.least_lever_mm,
                trade.present_lever_mm);
}

int main() { return run(error); }
