#!/usr/bin/env bash
# Measures `draw` against the yardstick in one run, and how it grows from 100 to 1000 kits.
#
#   tests/bench/compare.sh [SPEC] [options of compare.py]
set -euo pipefail
cd "$(dirname "$0")/../.."
export PATH="$HOME/.cargo/bin:$PATH"

cargo build --release --locked --quiet
cargo bench --locked --quiet --no-run --bench writers
bash tests/venv.sh
exec tests/.venv/bin/python tests/bench/compare.py "$@"
