#!/usr/bin/env bash
# The C and C++ tests, from an installed tree: run_c.sh [FOLDER_OF_VECTORS]
#
# Installs the release libraries to a folder of its own, compiles header,
# examples and tests with warnings as errors by every compiler that is there,
# links both ways, runs all, and again under checkers of memory. What the
# machine lacks is left out and said. The last line counts the steps.
set -uo pipefail

here=$(cd "$(dirname "$0")" && pwd)
crate=$(dirname "$here")
root=$(dirname "$crate")
vectors=${1:-$root/tests/vectors}
demo=$root/dividing-core/examples/demo
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
prefix=$work/installed

passed=0
failed=0
# step NAME COMMAND...: runs a command; its output is shown when it fails.
step() {
    local name=$1 start=$SECONDS
    shift
    if "$@" > "$work/output" 2>&1; then
        passed=$((passed + 1))
        echo "ok      $name ($((SECONDS - start)) s)"
    else
        failed=$((failed + 1))
        echo "FAILED  $name"
        sed 's/^/        /' "$work/output" | tail -30
    fi
}
left_out() {
    echo "left out: $1 ($2)"
}
has() {
    command -v "$1" > /dev/null 2>&1
}

warnings=(-Wall -Wextra -Wpedantic -Werror)
tests=("$here"/c/*.c)

step "install" "$crate/install.sh" "$prefix"
if [ "$failed" -ne 0 ]; then
    echo "$passed passed, $failed failed"
    exit 1
fi
export LD_LIBRARY_PATH=$prefix/lib
private=()
read -ra private < <(sed -n 's/^Libs.private: //p' "$prefix/lib/pkgconfig/dividing.pc")
shared=("-L$prefix/lib" -ldividing)
static=("$prefix/lib/libdividing.a" "${private[@]}")
include=("-I$prefix/include")

# The header alone, in a file of its own.
echo '#include <dividing.h>' > "$work/alone.c"
cp "$work/alone.c" "$work/alone.cpp"
echo '#include <dividing.hpp>' > "$work/alone_wrapped.cpp"

# run_test NAME [quick]: the test program of that name over the vectors; quick
# after the first, whose long searches need not be done by every compiler.
run_test() {
    "$work/$1" "$vectors" "${@:2}"
}
run_example() {
    "$work/$1" "$demo/workshop.json" "$demo/job_1_nine_slots.json" > "$work/$1.out" &&
        grep -q '4 turns + 8 holes' "$work/$1.out"
}
# What the C and the C++ example print as the sheet is the same, byte by byte.
same_sheet() {
    diff <(sed -n '/^====/,$p' "$work/$1.out") <(sed -n '/^====/,$p' "$work/$2.out") &&
        grep -q 'SET-UP SHEET' "$work/$1.out"
}
# The five questions, one program each, from the installed tree: every one says
# what it should, and C++ says it byte by byte as C does.
questions=(reach:"off by up to" pattern:"no plate of this kind has fewer"
    error:"simulated parts hold the tolerance" sheet:"SET-UP SHEET" proof:"worst case")
# answer_in LANGUAGE COMPILER FLAGS...
answer_in() {
    local language=$1 question program compilers=() compiler
    shift
    for question in "${questions[@]}"; do
        program=$work/${question%%:*}-$language
        "$@" "${warnings[@]}" "${include[@]}" "$crate/examples/${question%%:*}.$language" \
            -o "$program" "${shared[@]}" &
        compilers+=($!)
    done
    for compiler in "${compilers[@]}"; do
        wait "$compiler" || return 1
    done
    for question in "${questions[@]}"; do
        program=$work/${question%%:*}-$language
        "$program" > "$program.out" && grep -q "${question#*:}" "$program.out" || return 1
    done
}
same_answers() {
    local question
    for question in "${questions[@]}"; do
        diff "$work/${question%%:*}-c.out" "$work/${question%%:*}-cpp.out" || return 1
    done
}
# Bad paths and bad documents end with a message, not with a crash.
refuses() {
    "$work/$1" "$demo/job_1_nine_slots.json" "$demo/workshop.json" > "$work/said" 2>&1
    [ $? -eq 1 ] && grep -q 'unknown_field: workshop' "$work/said" &&
        ! "$work/$1" nowhere.json nothing.json
}

quick=""
for pair in "cc c++" "clang clang++"; do
    read -r cc cxx <<< "$pair"
    if has "$cc"; then
        for standard in c99 c11; do
            step "$cc: the header alone as $standard" \
                "$cc" "-std=$standard" "${warnings[@]}" "${include[@]}" -c "$work/alone.c" -o "$work/alone.o"
        done
        for way in shared static; do
            declare -n libraries=$way
            step "$cc: compile the example, $way" \
                "$cc" -std=c99 "${warnings[@]}" -O2 "${include[@]}" "$crate/examples/plan_job.c" \
                -o "$work/$cc-example-$way" "${libraries[@]}"
            step "$cc: run the example, $way" run_example "$cc-example-$way"
            step "$cc: the example refuses bad input, $way" refuses "$cc-example-$way"
            step "$cc: compile the tests, $way" \
                "$cc" -std=c99 "${warnings[@]}" -O1 -g "${include[@]}" "${tests[@]}" \
                -o "$work/$cc-test-$way" "${libraries[@]}" -lm -pthread
            step "$cc: run the tests, $way" run_test "$cc-test-$way" ${quick:+"$quick"}
            quick=quick
        done
    else
        left_out "C by $cc" "no such compiler here"
    fi
    if has "$cxx"; then
        step "$cxx: the header alone as c++17" \
            "$cxx" -std=c++17 "${warnings[@]}" "${include[@]}" -c "$work/alone.cpp" -o "$work/alone.o"
        step "$cxx: the C++ header alone" \
            "$cxx" -std=c++17 "${warnings[@]}" "${include[@]}" -c "$work/alone_wrapped.cpp" \
            -o "$work/alone.o"
        step "$cxx: compile the tests of the C++ header" \
            "$cxx" -std=c++17 "${warnings[@]}" -O1 -g "${include[@]}" "$here/cpp/wrappers.cpp" \
            -o "$work/$cxx-wrappers" "${shared[@]}" -pthread
        step "$cxx: run the tests of the C++ header" "$work/$cxx-wrappers"
        for way in shared static; do
            declare -n libraries=$way
            step "$cxx: compile the C++ example, $way" \
                "$cxx" -std=c++17 "${warnings[@]}" -O2 "${include[@]}" "$crate/examples/plan_job.cpp" \
                -o "$work/$cxx-example-$way" "${libraries[@]}"
            step "$cxx: run the C++ example, $way" run_example "$cxx-example-$way"
            step "$cxx: the C++ example refuses bad input, $way" refuses "$cxx-example-$way"
            step "$cxx: the sheet is that of $cc, $way" \
                same_sheet "$cc-example-$way" "$cxx-example-$way"
        done
    else
        left_out "C++ by $cxx" "no such compiler here"
    fi
done

step "the five questions in C" answer_in c cc -std=c99
if has c++; then
    step "the five questions in C++" answer_in cpp c++ -std=c++17
    step "C++ answers as C does" same_answers
fi

# The page's own example compiles.
readme_example() {
    sed -n '/^```c$/,/^```$/p' "$crate/README.md" | grep -v '^```' > "$work/readme.c" &&
        cc -std=c99 "${warnings[@]}" "${include[@]}" -c "$work/readme.c" -o "$work/readme.o"
}
step "the README's example compiles" readme_example
readme_cpp() {
    sed -n '/^```cpp$/,/^```$/p' "$crate/README.md" | grep -v '^```' > "$work/readme.cpp" &&
        c++ -std=c++17 "${warnings[@]}" "${include[@]}" -c "$work/readme.cpp" -o "$work/readme.o"
}
if has c++; then
    step "the README's example in C++ compiles" readme_cpp
fi

# So does the quick start of the project's README, and it prints what that says.
quick_start() {
    local readme="$crate/../README.md"
    sed -n '/^```c$/,/^```$/p' "$readme" | grep -v '^```' > "$work/quick.c" &&
        cc -std=c99 "${warnings[@]}" "${include[@]}" "$work/quick.c" -o "$work/quick" "${shared[@]}" &&
        LD_LIBRARY_PATH="$prefix/lib" "$work/quick" > "$work/quick.txt" &&
        grep -qxFf "$work/quick.txt" "$readme"
}
step "the quick start of the project's README" quick_start

if has valgrind; then
    # The standard library keeps a handle of a thread of C that starts others, by
    # a pointer into its middle.
    cat > "$work/suppressed" << 'END'
{
    the handle of the current thread
    Memcheck:Leak
    match-leak-kinds: possible
    ...
    fun:*init_current*
}
END
    grind=(valgrind --quiet --error-exitcode=9 --leak-check=full
        --errors-for-leak-kinds=definite,indirect,possible "--suppressions=$work/suppressed")
    step "valgrind: the C example" "${grind[@]}" "$work/cc-example-shared" \
        "$demo/workshop.json" "$demo/job_6_clocked_holes.json" "$work/picture.svg"
    step "valgrind: the C++ example" "${grind[@]}" "$work/c++-example-shared" \
        "$demo/workshop.json" "$demo/job_4_wheel_127.json"
    step "valgrind: the tests of the C++ header" "${grind[@]}" "$work/c++-wrappers"
    step "valgrind: the tests" "${grind[@]}" "$work/cc-test-shared" "$vectors" quick
else
    left_out "valgrind" "not installed; the sanitizers below look at the C side"
fi

sanitize=(-fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer -g)
echo 'int main(void) { return 0; }' > "$work/empty.c"
if cc "${sanitize[@]}" "$work/empty.c" -o "$work/empty" 2> /dev/null && "$work/empty"; then
    step "sanitizers: compile the tests" \
        cc -std=c99 "${warnings[@]}" "${sanitize[@]}" "${include[@]}" "${tests[@]}" \
        -o "$work/sanitized" "${shared[@]}" -lm -pthread
    step "sanitizers: run the tests (address and undefined behaviour, C side)" \
        run_test sanitized quick
else
    left_out "address and undefined behaviour sanitizers" "the C compiler lacks them"
fi

if has pkg-config; then
    with_pkg_config() {
        local flags
        flags=$(PKG_CONFIG_PATH=$prefix/lib/pkgconfig pkg-config --cflags --libs "dividing >= 0.1.0") &&
            # shellcheck disable=SC2086
            cc -std=c99 "$crate/examples/plan_job.c" -o "$work/pkg" $flags && run_example pkg
    }
    step "pkg-config: compile and run the example" with_pkg_config
else
    left_out "pkg-config" "not installed"
fi

if has cmake; then
    with_cmake() {
        mkdir -p "$work/cmake" && cat > "$work/cmake/CMakeLists.txt" << END
cmake_minimum_required(VERSION 3.13)
project(example C CXX)
find_package(dividing 0.1 REQUIRED)
add_executable(cmake-shared "$crate/examples/plan_job.c")
target_link_libraries(cmake-shared dividing::dividing)
add_executable(cmake-static "$crate/examples/plan_job.cpp")
target_compile_features(cmake-static PRIVATE cxx_std_17)
target_link_libraries(cmake-static dividing::static)
END
        cmake -S "$work/cmake" -B "$work" "-DCMAKE_PREFIX_PATH=$prefix" &&
            cmake --build "$work" && run_example cmake-shared && run_example cmake-static
    }
    step "cmake: find_package, both libraries" with_cmake
    # From the sources, as FetchContent gives them; cargo has built them already.
    fetched() {
        mkdir -p "$work/fetch" && cat > "$work/fetch/CMakeLists.txt" << END
cmake_minimum_required(VERSION 3.18)
project(example C CXX)
include(FetchContent)
FetchContent_Declare(dividing SOURCE_DIR "$root" SOURCE_SUBDIR dividing-ffi)
FetchContent_MakeAvailable(dividing)
add_executable(fetch-shared "$crate/examples/plan_job.c")
target_link_libraries(fetch-shared dividing::dividing)
add_executable(fetch-static "$crate/examples/plan_job.cpp")
target_compile_features(fetch-static PRIVATE cxx_std_17)
target_link_libraries(fetch-static dividing::static)
END
        cmake -S "$work/fetch" -B "$work/fetched" \
            "-DDIVIDING_CARGO_FOLDER=${CARGO_TARGET_DIR:-$root/target}" &&
            cmake --build "$work/fetched" && cp "$work"/fetched/fetch-s* "$work" &&
            LD_LIBRARY_PATH= run_example fetch-shared && run_example fetch-static
    }
    step "cmake: FetchContent, both libraries" fetched
else
    left_out "cmake" "not installed"
fi

soname() {
    readelf -d "$prefix/lib/libdividing.so" | grep -q 'SONAME.*\[libdividing\.so\.[0-9]*\.[0-9]*\]' &&
        readelf -d "$work/cc-example-shared" | grep -q 'NEEDED.*libdividing'
}
# What the shared library exports is what the header declares, no more, no less.
symbols() {
    diff <(sed -n 's/^[a-z].*[ *]\(dividing_[a-z0-9_]*\)(.*/\1/p' "$prefix/include/dividing.h" | sort) \
        <(nm -D --defined-only "$prefix/lib/libdividing.so" | awk '{ print $3 }' | sort)
}
if has nm; then
    step "the exports are those of the header" symbols
else
    left_out "the list of exports" "no nm"
fi
if has readelf; then
    step "the shared library has its soname" soname
else
    left_out "soname" "no readelf"
fi

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
