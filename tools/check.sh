#!/bin/sh
# Runs every check in order, says which one runs, stops at the first that fails, tells the time.
set -u

cd "$(dirname "$0")/.." || exit
bin=.venv/bin
started=$(date +%s)

elapsed() { echo "$(($(date +%s) - started)) s"; }

step() {
    name=$1
    shift
    printf -- '-- %s\n' "$name"
    "$@" </dev/null
    code=$?
    if [ "$code" -ne 0 ]; then
        printf 'Stopped: %s failed, after %s in all.\n' "$name" "$(elapsed)" >&2
        exit "$code"
    fi
}

step "set-up" sh tools/bootstrap.sh programs check
step "format" $bin/ruff format --check .
step "lint" $bin/ruff check .
step "types" $bin/mypy
# Its cache goes by the times of files, which a copy or a fast edit can leave as they were.
step "import floors" $bin/lint-imports --no-logo --no-cache
step "tests" $bin/pytest
if [ -f tools/docs.py ]; then
    step "docs" $bin/python tools/docs.py --check
fi
printf 'Every check passed, after %s in all.\n' "$(elapsed)"
