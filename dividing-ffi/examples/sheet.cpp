// Sheet: what to set, step by step, for seven slots on a head built by calls.
//
//     sheet
#include "common.hpp"

static void sheet() {
    dividing_equal_divisions slots{};
    slots.count = 7;
    slots.called = "slot";
    dividing_job_terms terms{};
    terms.tolerance = DIVIDING_TOLERANCE_KIND_ANGLE;
    terms.angle = {1, 7200}; // 0.05 degrees
    const auto workshop = bench({21, 33}, "plate 2");
    const auto job = dividing::call(dividing_job_equal_divisions, dividing::words("Seven slots"),
                                    &slots, &terms);
    const auto plans = dividing::call(dividing_plans_of, workshop, job, 0, nullptr, nullptr);
    std::printf("%s", dividing::call(dividing_plans_sheet_text, plans, 0).c_str());
}

int main() { return run(sheet); }
