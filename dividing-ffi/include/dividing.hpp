// Dividing for C++17: handles that free themselves, errors as exceptions, texts
// as std::string. Header-only, over dividing.h, whose comments hold for every
// function.
//
//     auto plans = dividing::call(dividing_plans_new, workshop, job);
//     std::cout << dividing::call(dividing_plans_sheet_text, plans, 0);
//
// `call` takes any function of dividing.h and its arguments without the last,
// which it gives back: a handle as dividing::unique, a text as std::string, a
// number or a struct as it is. Where a function takes a pointer and a length it
// takes one std::string, std::string_view, text literal or std::vector; where it
// takes a text that ends with NUL and no length, dividing::words; where it takes
// a handle, a dividing::unique will do.
//
// A failure throws dividing::error with the status, the field and the words.
// Threads: as in dividing.h; a unique handle moves between threads, and many may
// read one.
#ifndef DIVIDING_HPP
#define DIVIDING_HPP

#include "dividing.h"

#include <cmath>
#include <cstddef>
#include <memory>
#include <stdexcept>
#include <string>
#include <string_view>
#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

namespace dividing {

// Why a call failed; what() is dividing_last_error_text.
class error : public std::runtime_error {
public:
    explicit error(dividing_status status)
        : std::runtime_error(dividing_last_error_text()), status_(status),
          field_(dividing_last_error_field()) {}

    dividing_status status() const noexcept { return status_; }
    const char *status_name() const noexcept { return dividing_status_name(status_); }
    // The path to the field, or the name of the argument; empty where there is none.
    const std::string &field() const noexcept { return field_; }

private:
    dividing_status status_;
    std::string field_;
};

// Throws unless the status is success.
inline void check(dividing_status status) {
    if (status != DIVIDING_STATUS_OK) {
        throw error(status);
    }
}

// How each handle, and a text of the library, ends.
struct deleter {
    void operator()(char *it) const noexcept { dividing_text_free(it); }
    // [handles: written from dividing.h]
    void operator()(dividing_block_set *it) const noexcept { dividing_block_set_free(it); }
    void operator()(dividing_budget *it) const noexcept { dividing_budget_free(it); }
    void operator()(dividing_design *it) const noexcept { dividing_design_free(it); }
    void operator()(dividing_equipment *it) const noexcept { dividing_equipment_free(it); }
    void operator()(dividing_error_model *it) const noexcept { dividing_error_model_free(it); }
    void operator()(dividing_exact_table *it) const noexcept { dividing_exact_table_free(it); }
    void operator()(dividing_indexing_table *it) const noexcept { dividing_indexing_table_free(it); }
    void operator()(dividing_inspection *it) const noexcept { dividing_inspection_free(it); }
    void operator()(dividing_job *it) const noexcept { dividing_job_free(it); }
    void operator()(dividing_measurement *it) const noexcept { dividing_measurement_free(it); }
    void operator()(dividing_orientations *it) const noexcept { dividing_orientations_free(it); }
    void operator()(dividing_pattern *it) const noexcept { dividing_pattern_free(it); }
    void operator()(dividing_plans *it) const noexcept { dividing_plans_free(it); }
    void operator()(dividing_simulation *it) const noexcept { dividing_simulation_free(it); }
    void operator()(dividing_simulation_report *it) const noexcept { dividing_simulation_report_free(it); }
    void operator()(dividing_stepping_table *it) const noexcept { dividing_stepping_table_free(it); }
    void operator()(dividing_trains *it) const noexcept { dividing_trains_free(it); }
    void operator()(dividing_ways *it) const noexcept { dividing_ways_free(it); }
    void operator()(dividing_workshop *it) const noexcept { dividing_workshop_free(it); }
    // [end of handles]
};

// A handle that frees itself.
template <class T> using unique = std::unique_ptr<T, deleter>;

// A text that ends with NUL, for an argument without a length.
struct words {
    explicit words(const char *text) : text(text) {}
    explicit words(const std::string &text) : text(text.c_str()) {}
    const char *text;
};

namespace detail {

// What an argument is in C: a pointer and a length, a handle's pointer, itself.
inline auto spread(std::string_view text) { return std::make_tuple(text.data(), text.size()); }
inline auto spread(const std::string &text) { return std::make_tuple(text.data(), text.size()); }
inline auto spread(const char *text) { return spread(std::string_view(text)); }
template <class T> auto spread(const std::vector<T> &values) {
    return std::make_tuple(values.data(), values.size());
}
template <class T> auto spread(const unique<T> &handle) {
    return std::make_tuple(static_cast<const T *>(handle.get()));
}
inline auto spread(const words &text) { return std::make_tuple(text.text); }
template <class T> auto spread(const T &value) { return std::make_tuple(value); }

// An output as C++ holds it.
template <class T> auto owned(T out) {
    if constexpr (std::is_same_v<T, char *>) {
        const unique<char> owner(out);
        return std::string(out);
    } else if constexpr (std::is_pointer_v<T> && std::is_invocable_v<deleter, T>) {
        return unique<std::remove_pointer_t<T>>(out);
    } else {
        return out;
    }
}

} // namespace detail

// Calls a function that gives a status.
template <class... P, class... A>
auto call(dividing_status (*function)(P...), const A &...arguments) {
    auto given = std::tuple_cat(detail::spread(arguments)...);
    constexpr std::size_t count = std::tuple_size_v<decltype(given)>;
    if constexpr (count == sizeof...(P)) {
        std::apply([&](auto... each) { check(function(each...)); }, given);
    } else {
        static_assert(count + 1 == sizeof...(P), "every argument but the last, the output");
        using output = std::remove_pointer_t<std::tuple_element_t<count, std::tuple<P...>>>;
        output out{};
        std::apply([&](auto... each) { check(function(each..., &out)); }, given);
        return detail::owned(out);
    }
}

// Calls a function that gives a number, NaN for a failure.
template <class... P, class... A> double call(double (*function)(P...), const A &...arguments) {
    const double number =
        std::apply([&](auto... each) { return function(static_cast<P>(each)...); },
                   std::tuple_cat(detail::spread(arguments)...));
    if (std::isnan(number)) {
        throw error(dividing_last_error_status());
    }
    return number;
}

} // namespace dividing

#endif // DIVIDING_HPP
