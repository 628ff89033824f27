// What the examples share.
#ifndef DIVIDING_EXAMPLE_COMMON_HPP
#define DIVIDING_EXAMPLE_COMMON_HPP

#include <dividing.hpp>

#include <cstdio>
#include <cstdlib>
#include <exception>

// Runs the body; a failure of the library says why and ends the program.
inline int run(void (*body)()) {
    try {
        body();
        return EXIT_SUCCESS;
    } catch (const dividing::error &error) {
        std::fprintf(stderr, "%s: %s\n", error.status_name(), error.what());
    } catch (const std::exception &error) {
        std::fprintf(stderr, "%s\n", error.what());
    }
    return EXIT_FAILURE;
}

// A workshop with one worm head of 40:1 and one plate.
inline dividing::unique<dividing_workshop> bench(const std::vector<uint32_t> &holes,
                                                 const char *plate_name) {
    // Braces without values stand for "not given".
    std::vector<dividing_plate_circle> circles;
    for (const uint32_t count : holes) {
        dividing_plate_circle circle{};
        circle.holes = count;
        circles.push_back(circle);
    }
    dividing_index_plate plate{};
    plate.name = plate_name;
    plate.circles = circles.data();
    plate.circle_count = circles.size();
    dividing_worm_head head{};
    head.name = "head";
    head.worm_ratio = {40, 1};
    head.plates = &plate;
    head.plate_count = 1;
    const auto piece = dividing::call(dividing_equipment_worm_head, &head);
    const std::vector<const dividing_equipment *> pieces{piece.get()};
    return dividing::call(dividing_workshop_new, dividing::words("Bench"), pieces);
}

#endif
