// The C++ header: handles, texts and errors as C++ has them.
#include <dividing.hpp>

#include <cstring>
#include <iostream>
#include <string>
#include <string_view>
#include <thread>
#include <utility>
#include <vector>

namespace {

int failed = 0;

void check(bool good, const char *what) {
    if (!good) {
        failed++;
        std::cout << "failed: " << what << '\n';
    }
}

const std::string workshop =
    R"({"format":1,"name":"Bench","equipment":[{"worm_head":{"name":"head",
    "worm_ratio":40,"plates":[{"name":"plate 1","circles":[15,16,17,18,19,20]}]}}]})";
const char *const job =
    R"({"format":1,"name":"Nine slots","features":{"equal_divisions":{"count":9}}})";

template <class F> void refuses(F call, dividing_status status, std::string_view field) {
    try {
        call();
        check(false, "an error is thrown");
    } catch (const dividing::error &error) {
        check(error.status() == status, "its status");
        check(error.field() == field, ("its field: " + error.field()).c_str());
        check(std::string(error.what()).find(error.field()) == 0, "its words");
        check(std::strcmp(error.status_name(), dividing_status_name(status)) == 0, "its name");
    }
}

void texts_and_numbers() {
    const dividing_fraction turns = dividing::call(dividing_angle_parse, "22.5 deg");
    check(turns.numerator == 1 && turns.denominator == 16, "an angle");
    const std::string_view part = std::string_view("22.5 deg and more").substr(0, 8);
    check(dividing::call(dividing_angle_parse, part).denominator == 16, "a part of a text");
    check(dividing::call(dividing_angle_format, turns, DIVIDING_STYLE_FRACTION_OF_TURN, 0) ==
              "1/16 turn", "a text comes back");
    check(dividing::call(dividing_crank_holes, 40, 1, 9, 18) == 8, "a number");
    check(dividing::call(dividing_fit_least_clearance_mm, "H7/g6", 6) == 0.004, "a fit");
    dividing::call(dividing_workshop_check, workshop);
    refuses([] { dividing::call(dividing_angle_parse, "22.5"); },
            DIVIDING_STATUS_MISSING_UNIT, "");
    refuses([] { dividing::call(dividing_crank_holes, 40, 1, 9, 20); },
            DIVIDING_STATUS_INCONSISTENT, "holes");
    refuses([] { dividing::call(dividing_workshop_check, "{}"); },
            DIVIDING_STATUS_INVALID_FIELD, "");
}

void handles() {
    auto plans = dividing::call(dividing_plans_new, workshop, job);
    static_assert(std::is_same_v<decltype(plans), dividing::unique<dividing_plans>>);
    check(dividing::call(dividing_plans_count, plans) == 1, "a plan");
    const auto shop = dividing::call(dividing_workshop_from_json, workshop);
    const auto ways = dividing::call(dividing_ways_new, shop, nullptr, 0, nullptr, nullptr);
    check(dividing::call(dividing_ways_holds, ways, 0, dividing_fraction{0, 1}), "the zero");
    const dividing::unique<dividing_plans> moved = std::move(plans);
    check(plans == nullptr && moved != nullptr, "a handle moves");
    refuses([&] { dividing::call(dividing_plans_count, plans); }, DIVIDING_STATUS_NULL_POINTER,
            "plans");
    refuses([&] { dividing::call(dividing_plans_sheet_text, moved, 7); },
            DIVIDING_STATUS_NOT_FOUND, "plan");
    refuses([&] { dividing::call(dividing_plans_new, "{}", job); },
            DIVIDING_STATUS_INVALID_FIELD, "workshop");
    std::vector<std::thread> threads;
    std::vector<std::string> sheets(8);
    for (std::string &sheet : sheets) {
        threads.emplace_back(
            [&] { sheet = dividing::call(dividing_plans_sheet_text, moved, 0); });
    }
    for (std::thread &thread : threads) {
        thread.join();
    }
    for (const std::string &sheet : sheets) {
        check(!sheet.empty() && sheet == sheets[0], "a sheet from every thread");
    }
}

} // namespace

int main() {
    texts_and_numbers();
    handles();
    return failed == 0 ? 0 : 1;
}
