// Reach: which divisions up to 50 a 40:1 head with one plate makes exactly, and
// how near it comes to the others.
//
//     reach
#include "common.hpp"

static void reach() {
    const uint32_t first = 2, last = 50;
    const auto workshop = bench({15, 16, 17, 18, 19, 20}, "plate 1");
    const auto table = dividing::call(dividing_indexing_table_new, workshop, first, last, 0,
                                      nullptr, nullptr);
    // The columns belong to the table and are read in place.
    const auto rows = dividing::call(dividing_indexing_table_simple, table, 0);
    for (std::size_t i = 0; i < rows.length; i++) {
        std::printf("%3u divisions: %2u turns + %2u holes of %2u",
                    static_cast<unsigned>(first + i), static_cast<unsigned>(rows.turns[i]),
                    static_cast<unsigned>(rows.holes[i]), static_cast<unsigned>(rows.circle[i]));
        if (rows.exact[i] != 0) {
            std::printf("\n");
        } else {
            std::printf(", off by up to %.1f\"\n", rows.residual_turns[i] * 1296000);
        }
    }
}

int main() { return run(reach); }
