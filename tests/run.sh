#!/usr/bin/env bash
# Runs everything that must hold: format, lints, Rust tests, and the checks from outside on freshly
# drawn kits. Needs Rust and Python 3; makes its own Python environment in tests/.venv.
#
#   tests/run.sh          all of it
#   tests/run.sh outside  build, draw and check from outside only
set -euo pipefail
cd "$(dirname "$0")/.."
export PATH="$HOME/.cargo/bin:$PATH"
export PYTHONDONTWRITEBYTECODE=1
only="${1:-all}"

work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT
log="$work/log"
: >"$log"
passed=0
failed=0

# Runs one step, shows its output, counts it, and goes on to the next even when it fails.
step() {
    local title="$1" start=$SECONDS
    shift
    printf '\n== %s: %s\n' "$title" "$*"
    if "$@" 2>&1 | tee "$work/step"; then
        passed=$((passed + 1))
        printf '== %s: passed in %d s\n' "$title" $((SECONDS - start)) | tee -a "$log"
    else
        failed=$((failed + 1))
        printf '== %s: FAILED after %d s\n' "$title" $((SECONDS - start)) | tee -a "$log"
    fi
    count_tests
}

# Adds the counts that cargo's and pytest's closing lines give to the totals.
count_tests() {
    local more
    more="$(sed 's/\x1b\[[0-9;]*m//g' "$work/step" |
        awk '/^test result:/ || /^(=+ )?[0-9]+ (passed|failed|error).* in [0-9.]+s/ {
                for (i = 2; i <= NF; i++) {
                    if ($i ~ /^passed/) p += $(i - 1)
                    if ($i ~ /^(failed|errors?)/) f += $(i - 1)
                }
             } END { print p + 0, f + 0 }')"
    passed=$((passed + ${more% *}))
    failed=$((failed + ${more#* }))
}

draw_samples() {
    target/release/blankwright draw sample-specs --out "$work/kits"
}

outside_checks() {
    BLANKWRIGHT_KITS="$work/kits" BLANKWRIGHT_BIN="$PWD/target/release/blankwright" \
        tests/.venv/bin/python -m pytest -q -ra -p no:cacheprovider --durations=10 tests/outside
}

if [ "$only" = all ]; then
    step "format" cargo fmt --check
    step "lints" cargo clippy --all-targets --locked -- -D warnings
    step "Rust tests" cargo test --locked
fi
step "release build" cargo build --release --locked
step "Python environment" bash tests/venv.sh
step "drawing the sample specs" draw_samples
step "checks from outside" outside_checks

printf '\nWhat ran:\n'
cat "$log"
printf '%d passed, %d failed\n' "$passed" "$failed"
[ "$failed" -eq 0 ]
