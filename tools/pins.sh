#!/bin/sh
# Writes requirements/*.txt from pyproject.toml: exact pins for every system and every supported
# Python, without addresses, hashes or paths. Pins that still hold are kept; UPGRADE=yes takes the
# newest that pyproject.toml allows.
set -eu

cd "$(dirname "$0")/.."
uv=.venv/bin/uv
new=$(mktemp -d)
trap 'rm -rf "$new"' EXIT

upgrade=
[ "${UPGRADE:-no}" != yes ] || upgrade=--upgrade

# What builds the project is pinned with what it runs on.
.venv/bin/python -c '
import pathlib, tomllib
project = tomllib.loads(pathlib.Path("pyproject.toml").read_text(encoding="utf-8"))
print(*project["build-system"]["requires"], sep="\n")
' >"$new/build.in"

# uv keeps the pins that it finds in its output file.
compile() {
    output=$1
    shift
    cp "requirements/$output" "$new/$output" 2>/dev/null || :
    "$uv" pip compile --quiet --universal --python-version 3.11 --no-header \
        --annotation-style line $upgrade -o "$new/$output" "$@" pyproject.toml - \
        <"$new/build.in"
}

compile run.txt
compile check.txt --extra check --constraint "$new/run.txt"

{
    echo '# What the program runs on, exactly. Written by make pins from pyproject.toml.'
    cat "$new/run.txt"
} >requirements/run.txt
{
    echo '# What the checks need besides, exactly. Written by make pins from pyproject.toml.'
    echo '-r run.txt'
    awk 'NR == FNR { run[$1] = 1; next } !($1 in run)' "$new/run.txt" "$new/check.txt"
} >requirements/check.txt
