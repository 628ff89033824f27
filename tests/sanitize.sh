#!/usr/bin/env bash
# Checkers of memory and of threads, and fuzzing: sanitize.sh [SECONDS]
#
# Builds the library with the address sanitizer inside and runs its tests in
# Rust and C, the C side with the sanitizer of undefined behaviour as well; then
# with the thread sanitizer; then fuzzes every export that takes a text or an
# array, SECONDS each (3), over the corpus that is kept in
# dividing-ffi/tests/corpus. What the machine lacks is left out and said.
#
# The sanitizers are switches of the compiler that the stable release hides;
# RUSTC_BOOTSTRAP opens them for these builds only.
set -uo pipefail
cd "$(dirname "$0")/.." || exit 1
seconds=${1:-3}
host=$(rustc -vV | sed -n 's/^host: //p')
export CARGO_TERM_COLOR=never RUSTC_BOOTSTRAP=1 CC=clang
ffi=dividing-ffi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
passed=0
failed=0
failures=()
begin=$SECONDS

step() {
    local title=$1 start=$SECONDS
    shift
    if "$@" > "$work/output" 2>&1; then
        passed=$((passed + 1))
        echo "ok      $title ($((SECONDS - start)) s)"
    else
        failed=$((failed + 1))
        failures+=("$title")
        echo "FAILED  $title ($((SECONDS - start)) s)"
        tail -40 "$work/output" | sed 's/^/        /'
    fi
}

if ! command -v clang > /dev/null; then
    echo "left out: sanitizers and fuzzing (no clang)"
    exit 0
fi
if [ "$host" != x86_64-unknown-linux-gnu ]; then
    echo "left out: sanitizers and fuzzing (known on x86_64 Linux only, not on $host)"
    exit 0
fi

# build WHICH FLAGS COMMAND...: cargo with the flags, in a folder of its own.
build() {
    local which=$1 flags=$2
    shift 2
    CARGO_TARGET_DIR="build/$which" CARGO_PROFILE_DEV_DEBUG=1 RUSTFLAGS="$flags" \
        cargo "$@" --target "$host"
}
# c_program WHICH FLAGS PROGRAM SOURCE...: compiled against that build.
c_program() {
    local folder=$PWD/build/$1/$host/debug/deps flags program=$3
    read -ra flags <<< "$2"
    shift 3
    ln -sf libdividing.so "$folder/libdividing.so.$(version)"
    clang -std=c11 -g -O1 "${flags[@]}" "-I$ffi/include" "-I$ffi/tests/abi" "$@" \
        -o "$work/$program" "-L$folder" -ldividing -lm -pthread "-Wl,-rpath,$folder"
}
version() {
    cargo pkgid -p dividing-ffi | sed 's/.*[#@]//; s/\.[0-9]*$//'
}
# sees WHAT PROGRAM: the checker ends the program with these words, so it works.
sees() {
    ! "$work/$2" > "$work/said" 2>&1 && grep -q "$1" "$work/said"
}

address="-fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer"
step "address: the tests in Rust, and every export from C" env CFLAGS="$address" \
    bash -c "$(declare -f build); host=$host; build address -Zsanitizer=address \
    test -q -p dividing-ffi --features provoke_panic"
step "address: compile the C tests" c_program address "$address" tests "$ffi"/tests/c/*.c
step "address: run the C tests" "$work/tests" tests/vectors quick
step "address: compile a use after free" \
    c_program address "$address" freed "$ffi/tests/checkers/use_after_free.c"
step "address: it is seen inside the library" sees heap-use-after-free freed

# The standard library is not built with the sanitizer, which the switch says;
# so its own threads would be reported, and those of C are looked at.
step "threads: build the library" build thread \
    "-Zsanitizer=thread -Cunsafe-allow-abi-mismatch=sanitizer" build -q -p dividing-ffi --lib
# thread_program PROGRAM SOURCE...: with the runtime of the thread sanitizer that
# comes with Rust, as that of an older clang lacks what Rust calls.
thread_program() {
    local program=$1 runtime source objects=()
    shift
    runtime=$(echo "$(rustc --print sysroot)/lib/rustlib/$host/lib"/librustc*_rt.tsan.a)
    for source in "$@"; do
        objects+=("$work/$(basename "$source").o")
        clang -std=c11 -g -O1 -fsanitize=thread "-I$ffi/include" -c "$source" \
            -o "${objects[-1]}" || return 1
    done
    local folder=$PWD/build/thread/$host/debug/deps
    ln -sf libdividing.so "$folder/libdividing.so.$(version)"
    clang "${objects[@]}" -Wl,--whole-archive "$runtime" -Wl,--no-whole-archive \
        -Wl,--export-dynamic "-L$folder" -ldividing -lpthread -ldl -lm -lrt \
        "-Wl,-rpath,$folder" -o "$work/$program"
}
step "threads: compile the C tests" thread_program threads "$ffi"/tests/c/*.c
step "threads: run the C tests" "$work/threads" tests/vectors quick
step "threads: compile a race" thread_program race "$ffi/tests/checkers/race.c"
step "threads: it is seen inside the library" sees "data race" race

# Coverage guides the fuzzer; only the library needs it, not what tests need.
guided="-Zsanitizer=address -Cpasses=sancov-module"
for option in level=4 inline-8bit-counters pc-table trace-compares; do
    guided+=" -Cllvm-args=-sanitizer-coverage-$option"
done
step "fuzzing: build the library" build fuzz "$guided" build -q -p dividing-ffi --lib
fuzz_program() {
    local calls="build/address/$host/tmp/calls.c"
    c_program fuzz "-fsanitize=fuzzer,address,undefined -fno-sanitize-recover=all" fuzz \
        "$calls" "$ffi/tests/abi/fuzz_every_export.c"
}
step "fuzzing: compile" fuzz_program
# fuzz EXPORT: from the kept corpus and the sample; new finds are not kept.
fuzz() {
    local kept="$ffi/tests/corpus/$1" found="$work/corpus-$1"
    mkdir -p "$found"
    [ -d "$kept" ] || kept=""
    FUZZ_EXPORT=$1 FUZZ_SEED="$found/sample" "$work/fuzz" &&
        FUZZ_EXPORT=$1 "$work/fuzz" -max_total_time="$seconds" -timeout=30 -rss_limit_mb=4096 \
            -dict="$ffi/tests/corpus/words.dict" -artifact_prefix="build/fuzz/$1-" \
            "$found" ${kept:+"$kept"}
}
exports=()
[ -x "$work/fuzz" ] && mapfile -t exports < <(FUZZ_LIST=1 "$work/fuzz")
# All processors are at work; what each found is told in order afterwards.
for export in ${exports[@]+"${exports[@]}"}; do
    while [ "$(jobs -rp | wc -l)" -ge "$(nproc)" ]; do wait -n; done
    (fuzz "$export" > "$work/said-$export" 2>&1 && touch "$work/sound-$export") &
done
wait
fuzzed() {
    cat "$work/said-$1"
    [ -e "$work/sound-$1" ]
}
for export in ${exports[@]+"${exports[@]}"}; do
    step "fuzzing: $export" fuzzed "$export"
done

echo
echo "Sanitizers and fuzzing: summary after $((SECONDS - begin)) s"
for line in ${failures[@]+"${failures[@]}"}; do echo "failed: $line"; done
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ] && [ "${#exports[@]}" -gt 0 ]
