// Pattern: which holes to drill in a disc of 100 mm so that it serves 5, 6, 7, 8,
// 9 and 12 divisions, with the proof that no plate has fewer, and the table for
// the machine.
//
//     pattern
#include "common.hpp"

static void pattern() {
    const std::vector<uint64_t> divisions{5, 6, 7, 8, 9, 12};
    dividing_plate_brief brief{};
    brief.divisions = divisions.data();
    brief.division_count = divisions.size();
    brief.plate_use = DIVIDING_PLATE_USE_PLUNGER;
    brief.outline_mm = 100;
    brief.hole_diameter_mm = 6;
    brief.least_web_mm = 2;
    brief.least_edge_distance_mm = 3;
    const auto design = dividing::call(dividing_design_of, &brief, 0, nullptr, nullptr);
    if (!dividing::call(dividing_design_fits, design)) {
        std::printf("%s\n", dividing::call(dividing_design_shortfall_text, design).c_str());
        return;
    }
    const auto found = dividing::call(dividing_design_pattern, design);
    const auto proof = dividing::call(dividing_pattern_certificate, found);
    std::printf("%u holes; no plate of this kind has fewer than %u\n",
                static_cast<unsigned>(proof.holes), static_cast<unsigned>(proof.lower_bound));
    const dividing_hole_table table{3, 0, DIVIDING_PLATE_DATUM_CENTRE};
    std::printf("%s", dividing::call(dividing_pattern_csv, found, table).c_str());
}

int main() { return run(pattern); }
