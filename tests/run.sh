#!/usr/bin/env bash
# Sets up all it needs, builds everything and runs every test: Rust (debug and
# release), C and C++, Python with the notebooks. Ends with a summary.
#
# Needs cargo, python3 with pip and venv, and a C and a C++ compiler. What the
# machine lacks beyond that is left out, and the summary says so.
set -u
cd "$(dirname "$0")/.." || exit 1
export CARGO_TERM_COLOR=never PIP_DISABLE_PIP_VERSION_CHECK=1
venv="$PWD/build/test-venv"
mkdir -p build
passed=0
failed=0
failures=()
left_out=()
begin=$SECONDS

# step TITLE COMMAND...: runs a command and counts it.
step() {
    local title=$1 start=$SECONDS
    shift
    echo
    echo "== $title"
    if "$@"; then
        passed=$((passed + 1))
        echo "-- $title: passed ($((SECONDS - start)) s)"
    else
        failed=$((failed + 1))
        failures+=("$title")
        echo "-- $title: FAILED ($((SECONDS - start)) s)"
    fi
}

docs() {
    RUSTDOCFLAGS="-D warnings" cargo doc -q --no-deps -p dividing-core -p dividing-ffi
}

environment() {
    "$venv/bin/python" -m pip install -q -r tests/python/requirements.txt
}

# The wheel is built beside the tests of C, as most of either uses one core.
package_begun() {
    package > build/package.txt 2>&1 &
    packaging=$!
}
package_done() {
    wait "$packaging"
    local status=$?
    cat build/package.txt
    return "$status"
}

# The source distribution alone makes the wheel that is tested.
package() {
    [ -x "$venv/bin/python" ] || python3 -m venv "$venv" || return 1
    "$venv/bin/python" -m pip install -q --upgrade pip maturin || return 1
    rm -f build/dist/*
    # All files of a source distribution bear one date, so that a build kept from
    # before would pass for new.
    find build/sdist-target -path '*/.fingerprint/dividing*' -prune -exec rm -rf {} + 2> /dev/null
    "$venv/bin/python" -m maturin sdist -m dividing-py/Cargo.toml -o build/dist > /dev/null || return 1
    MATURIN_PEP517_ARGS="--compression-level 9" CARGO_TARGET_DIR="$PWD/build/sdist-target" \
        "$venv/bin/python" -m pip wheel -q --no-deps \
        -w build/dist build/dist/dividing-*.tar.gz || return 1
    "$venv/bin/python" -m pip install -q --force-reinstall --no-deps build/dist/dividing-*.whl
}

outside() {
    cargo test -q --release -p dividing-core --test all &&
        cargo test -q --release -p dividing-ffi --test '*'
}

example() {
    cargo run -q --release --example plan_job > build/plan_job.txt &&
        grep -q "SET-UP SHEET" build/plan_job.txt
}

if cargo fmt --version > /dev/null 2>&1; then
    step "format" cargo fmt --all --check
else
    left_out+=("format: no rustfmt here")
fi
if cargo clippy --version > /dev/null 2>&1; then
    step "clippy" cargo clippy -q --workspace --all-targets --all-features -- -D warnings
else
    left_out+=("clippy: not installed here")
fi
step "Rust tests and schemas, overflow checked" cargo test -q --features dividing-core/schema
# Unit tests have run above; those from outside run on optimised code too.
step "Rust tests from outside, release" outside
step "a panic inside every export" \
    cargo test -q -p dividing-ffi --features provoke_panic --test abi
step "documentation" docs
step "the example of the README" example
package_begun
step "C and C++" bash dividing-ffi/tests/run_c.sh
if command -v soffice > /dev/null && /usr/bin/python3 -c "import uno" 2> /dev/null; then
    step "spreadsheet" python3 dividing-ffi/tests/spreadsheet.py target/release/libdividing.so
else
    left_out+=("spreadsheet: no LibreOffice Calc with Python here")
fi
step "Python package" package_done
step "Python environment" environment
step "Python tests" "$venv/bin/python" -m pytest -q dividing-py/tests tests/python

left_out+=("sanitizers and fuzzing: tests/sanitize.sh runs them, 5 to 10 minutes more")
echo
echo "Summary after $((SECONDS - begin)) s"
for line in "${left_out[@]+"${left_out[@]}"}"; do echo "left out: $line"; done
for line in "${failures[@]+"${failures[@]}"}"; do echo "failed: $line"; done
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
