#!/usr/bin/env bash
# Makes tests/.venv, the Python environment of the checks and of the benchmark; anew when the list
# of requirements changes. Needs Python 3.11 or later.
set -euo pipefail
cd "$(dirname "$0")"
wanted=outside/requirements.txt
stamp=.venv/requirements.txt

if ! cmp -s "$wanted" "$stamp"; then
    rm -rf .venv
    python3 -m venv .venv
    .venv/bin/python -m pip install --quiet --disable-pip-version-check --requirement "$wanted"
    cp "$wanted" "$stamp"
fi

# The solid kernel links to libraries that a bare system may lack.
if ! .venv/bin/python -c 'import build123d' 2>/dev/null; then
    apt-get update --quiet --quiet
    DEBIAN_FRONTEND=noninteractive apt-get install --quiet --quiet --yes \
        libgl1 libxrender1 libxext6 libfontconfig1
fi
.venv/bin/python -c 'import build123d'

# The browser in which index.html is looked at.
if ! command -v chromium >/dev/null; then
    apt-get update --quiet --quiet
    DEBIAN_FRONTEND=noninteractive apt-get install --quiet --quiet --yes \
        --no-install-recommends chromium
fi
.venv/bin/python --version
