// Proof: eight holes of a plate were measured. What are its errors, from which
// hole is it best used for four divisions, and what does the bench plan when it
// knows?
//
//     proof
#include "common.hpp"

static const char *const WORKSHOP = R"({"format": 1, "name": "Bench", "equipment": [
    {"direct_plate": {"name": "plate", "circles": [{"holes": 8, "pitch_radius": 40}],
     "registration": {"pin_diameter": 5.99, "hole_diameter": 6,
     "hole_position_tolerance": 0.03}}}]})";
static const char *const JOB = R"({"format": 1, "name": "Four slots", "features":
    {"equal_divisions": {"count": 4, "called": "slot"}}, "tolerance": {"angle": "0.05 deg"}})";

static void proof() {
    static const double x_mm[] = {40.004, 28.289, 0.001, -28.280, -39.995, -28.281, 0.006, 28.291};
    static const double y_mm[] = {0.002, 28.281, 40.006, 28.290, 0.004, -28.288, -39.998, -28.279};
    const std::vector<std::size_t> four{0, 2, 4, 6};
    dividing_ring_readings ring{};
    ring.name = "plate";
    ring.places = 8;
    ring.axis = 1; // the bore, at 0, 0
    ring.standard_uncertainty = 0.001;
    const auto measurement = dividing::call(dividing_measurement_points, &ring, nullptr, x_mm, y_mm,
                                            nullptr, nullptr, 8);
    const auto inspection =
        dividing::call(dividing_inspection_new, measurement, 0, nullptr, nullptr);
    std::printf("%s", dividing::call(dividing_inspection_text, inspection).c_str());
    const auto start = dividing::call(dividing_inspection_choose_start, inspection,
                                      DIVIDING_ABOUT_AXIS_OR_CENTRE, 0, four,
                                      DIVIDING_REFERENCE_MIDDLE, 0, 0, nullptr, nullptr);
    std::printf("\nfour divisions: begin at hole %u, worst %.4f degrees; from the worst hole %.4f\n",
                static_cast<unsigned>(start.best), start.worst_rad * 57.29577951308232,
                start.worst_choice_rad * 57.29577951308232);
    const auto workshop = dividing::call(dividing_workshop_from_json, WORKSHOP);
    const auto known =
        dividing::call(dividing_inspection_into_workshop, inspection, 0, workshop, 0, 0);
    const auto job = dividing::call(dividing_job_from_json, JOB);
    const auto plans = dividing::call(dividing_plans_of, known, job, 0, nullptr, nullptr);
    const auto plan = dividing::call(dividing_plans_get, plans, 0);
    std::printf("planned with its measured holes: worst case %.4f degrees\n",
                plan.error.worst_deg);
}

int main() { return run(proof); }
