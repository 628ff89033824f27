// The main job from C++17: plans a job on a workshop, both JSON files, lists
// the plans and prints the sheet of the best.
//
//     plan_job workshop.json job.json
#include <dividing.h>

#include <cstddef>
#include <exception>
#include <fstream>
#include <iostream>
#include <iterator>
#include <memory>
#include <stdexcept>
#include <string>

namespace {

// Turns a status into an exception with the library's words.
void check(dividing_status status) {
    if (status != DIVIDING_STATUS_OK) {
        throw std::runtime_error(std::string(dividing_status_name(status)) + ": " +
                                 dividing_last_error_text());
    }
}

struct Free {
    void operator()(dividing_plans *plans) const { dividing_plans_free(plans); }
    void operator()(char *text) const { dividing_text_free(text); }
};
using Plans = std::unique_ptr<dividing_plans, Free>;
using Text = std::unique_ptr<char, Free>;

std::string read_file(const char *path) {
    std::ifstream file(path, std::ios::binary);
    if (!file) {
        throw std::runtime_error(std::string(path) + ": cannot be read");
    }
    return {std::istreambuf_iterator<char>(file), {}};
}

Plans plan(const std::string &workshop, const std::string &job) {
    dividing_plans *plans = nullptr;
    check(dividing_plans_new(workshop.data(), workshop.size(), job.data(), job.size(), &plans));
    return Plans(plans);
}

void print(const Plans &plans) {
    std::size_t count = 0;
    check(dividing_plans_count(plans.get(), &count));
    for (std::size_t i = 0; i < count; i++) {
        dividing_plan facts{};
        check(dividing_plans_get(plans.get(), i, &facts));
        std::cout << i + 1 << ". " << facts.equipment << ": " << facts.method
                  << (facts.exact ? ", exact" : ", nearest") << ", worst case "
                  << facts.error.worst_deg << " degrees, margin " << facts.margin_deg
                  << " degrees\n";
    }
    char *sheet = nullptr;
    check(dividing_plans_sheet_text(plans.get(), 0, &sheet));
    std::cout << '\n' << Text(sheet).get();
}

} // namespace

int main(int count, char **arguments) {
    if (count != 3) {
        std::cerr << "plan_job workshop.json job.json\n";
        return 2;
    }
    try {
        print(plan(read_file(arguments[1]), read_file(arguments[2])));
    } catch (const std::exception &error) {
        std::cerr << error.what() << '\n';
        return 1;
    }
    return 0;
}
