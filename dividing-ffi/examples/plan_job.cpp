// The main job from C++17: plans a job on a workshop, both JSON files, lists
// the plans and prints the sheet of the best.
//
//     plan_job workshop.json job.json
#include <dividing.hpp>

#include <cstddef>
#include <exception>
#include <fstream>
#include <iostream>
#include <iterator>
#include <stdexcept>
#include <string>

namespace {

std::string read_file(const char *path) {
    std::ifstream file(path, std::ios::binary);
    if (!file) {
        throw std::runtime_error(std::string(path) + ": cannot be read");
    }
    return {std::istreambuf_iterator<char>(file), {}};
}

void print(const std::string &workshop, const std::string &job) {
    const auto plans = dividing::call(dividing_plans_new, workshop, job);
    const std::size_t count = dividing::call(dividing_plans_count, plans);
    for (std::size_t i = 0; i < count; i++) {
        const dividing_plan facts = dividing::call(dividing_plans_get, plans, i);
        std::cout << i + 1 << ". " << facts.equipment << ": " << facts.method
                  << (facts.exact ? ", exact" : ", nearest") << ", worst case "
                  << facts.error.worst_deg << " degrees, margin " << facts.margin_deg
                  << " degrees\n";
    }
    std::cout << '\n' << dividing::call(dividing_plans_sheet_text, plans, 0);
}

} // namespace

int main(int count, char **arguments) {
    if (count != 3) {
        std::cerr << "plan_job workshop.json job.json\n";
        return 2;
    }
    try {
        print(read_file(arguments[1]), read_file(arguments[2]));
    } catch (const dividing::error &error) {
        std::cerr << error.status_name() << ": " << error.what() << '\n';
        return 1;
    } catch (const std::exception &error) {
        std::cerr << error.what() << '\n';
        return 1;
    }
    return 0;
}
