#!/bin/sh
# Makes a machine ready: sees what is missing, installs it where it may, and stops with the exact
# line to type where it may not.
#
#   sh tools/bootstrap.sh WANTED...
#
# WANTED is any of
#   run        the environment .venv with what the program needs to run
#   check      the same with what the checks need as well
#   programs   the system's programs that the tests call
#
# A second call finds a stamp in .venv and returns at once. The stamp holds a checksum of the pins,
# of pyproject.toml and of this script, and the place of the tree, because the scripts in .venv/bin
# carry absolute paths. PYTHON=/path/to/python3 chooses an interpreter.
set -eu

cd "$(dirname "$0")/.."
here=$(pwd -P)
apt_is_fresh=no

say() { printf '%s\n' "$*"; }

stop() {
    printf '%s\n' "$*" >&2
    exit 1
}

present() { command -v "$1" >/dev/null 2>&1; }

# Root's own right, or sudo that asks for no password; a question would hang where nobody sits.
may_install() {
    present apt-get || return 1
    [ "$(id -u)" -eq 0 ] || { present sudo && sudo -n true 2>/dev/null; }
}

as_root() {
    if [ "$(id -u)" -eq 0 ]; then "$@"; else sudo -n "$@"; fi
}

refresh_apt() {
    [ "$apt_is_fresh" = no ] || return 0
    say "Reading the lists of packages (apt-get update)"
    # One source out of many may be broken; whether what is wanted is there shows in a moment.
    as_root apt-get update -qq || say "Not every list could be read; going on with those that are here"
    apt_is_fresh=yes
}

apt_install() {
    say "Installing by apt: $*"
    # Another apt may hold the lock for a while, as it does on a machine that has just started.
    as_root env DEBIAN_FRONTEND=noninteractive \
        apt-get install -y -qq --no-install-recommends -o DPkg::Lock::Timeout=120 "$@" \
        </dev/null >/dev/null ||
        stop "apt-get could not install this; its own message stands above. Type it yourself, then" \
            "start again:
  sudo apt-get install -y --no-install-recommends $*"
}

# pyproject.toml asks for 3.11; for 3.15 the pinned solver has no built package yet.
is_supported() {
    "$1" -c 'import sys; sys.exit(not (3, 11) <= sys.version_info < (3, 15))' >/dev/null 2>&1
}

# Debian's python3 comes without ensurepip; uv needs neither venv nor ensurepip.
can_make_environments() {
    present uv || "$1" -c 'import ensurepip, venv' >/dev/null 2>&1
}

# Sets `python` to an interpreter that can make the environment, else to nothing; `bare_minor` is
# then the minor version of one that lacks only its venv module.
find_python() {
    python=
    bare_minor=
    for candidate in ${PYTHON:-python3 python3.14 python3.13 python3.12 python3.11}; do
        # An activated .venv would be removed from under its own interpreter.
        case $(command -v "$candidate") in "$here"/.venv/*) continue ;; esac
        is_supported "$candidate" || continue
        if can_make_environments "$candidate"; then
            python=$candidate
            return
        fi
        [ -n "$bare_minor" ] ||
            bare_minor=$("$candidate" -c 'import sys; print(sys.version_info.minor)')
    done
}

# The package that completes the Python that is here, or brings one, as far as apt's lists know.
venv_package() {
    for minor in $bare_minor 13 12 11 14; do
        if apt-cache show "python3.$minor-venv" >/dev/null 2>&1; then
            say "python3.$minor-venv"
            return
        fi
    done
    say python3-venv
}

need_python() {
    find_python
    [ -z "$python" ] || return 0
    if [ -n "${PYTHON:-}" ]; then
        stop "PYTHON=$PYTHON cannot be used: it has to be a Python from 3.11 to 3.14 with its" \
            "venv module."
    fi
    if [ -n "$bare_minor" ]; then
        say "Python 3.$bare_minor is here, but its venv module is not."
    else
        say "No Python from 3.11 to 3.14 is here."
    fi
    present apt-get ||
        stop "This system has no apt-get. Install a Python from 3.11 to 3.14 with its venv module" \
            "as this system does it, then start again; PYTHON=/path/to/python3 names one that is" \
            "not on the search path."
    may_install ||
        stop "This account may not install packages. Type this, then start again:
  sudo apt-get update && sudo apt-get install -y --no-install-recommends $(venv_package)"
    refresh_apt
    apt_install "$(venv_package)"
    find_python
    [ -n "$python" ] ||
        stop "apt brought no Python from 3.11 to 3.14. Install one by other means, then start again" \
            "with PYTHON=/path/to/python3."
}

# What to call, and the packages that bring it. gcc alone comes without the C library's headers.
need_programs() {
    missing=
    present git || missing="$missing git"
    present ngspice || missing="$missing ngspice"
    present pdftotext || missing="$missing poppler-utils"
    if ! present gcc; then
        missing="$missing gcc libc6-dev"
    elif ! echo '#include <stdio.h>' | gcc -E - >/dev/null 2>&1; then
        missing="$missing libc6-dev"
    fi
    [ -n "$missing" ] || return 0
    if ! may_install; then
        stop "The tests need programs that are missing here and that this account may not install." \
            "Type this, then start again:
  sudo apt-get update && sudo apt-get install -y --no-install-recommends$missing"
    fi
    refresh_apt
    # shellcheck disable=SC2086  # a list of package names
    apt_install $missing
}

checksum() {
    cat tools/bootstrap.sh pyproject.toml "$@" | cksum
}

is_ready() {
    [ -f "$1" ] && [ "$(cat "$1")" = "$2" ] && .venv/bin/python -c '' 2>/dev/null
}

# An environment that uv made holds no pip.
can_install() {
    present uv || .venv/bin/python -c 'import pip' 2>/dev/null
}

make_environment() {
    # A tree that was moved or copied carries an environment whose scripts point elsewhere.
    made_for=$(cat .venv/made-for 2>/dev/null || say "$here")
    if [ "$made_for" = "$here" ] && is_supported .venv/bin/python && can_install; then
        return
    fi
    need_python
    say "Making .venv with $("$python" --version)"
    rm -rf .venv
    if present uv; then
        uv venv --quiet --python "$python" .venv
    else
        "$python" -m venv .venv
    fi
    say "$here" >.venv/made-for
}

# What the program runs on is compiled to bytecode once, here; the checks' own packages are large,
# and what is used of them is compiled when it is first imported.
install() {
    pins=requirements/$1.txt
    say "Installing the pins of $pins"
    if present uv; then
        compile=--no-compile-bytecode
        [ "$1" != run ] || compile=--compile-bytecode
        set -- uv pip install --quiet --python .venv/bin/python $compile -r "$pins"
    else
        compile=--no-compile
        [ "$1" != run ] || compile=--compile
        set -- pip install $compile -r "$pins"
    fi
    "$@" || stop "The pins of $pins could not be installed; the installer's message stands above."
}

# Twice quiet: errors are still told.
pip() {
    .venv/bin/python -m pip --disable-pip-version-check --quiet --quiet "$@"
}

# The project itself is built with the pinned setuptools, so nothing unpinned is fetched for it.
install_project() {
    if present uv; then
        uv pip install --quiet --python .venv/bin/python --no-deps --no-build-isolation -e .
    else
        pip install --no-deps --no-build-isolation -e .
    fi
    .venv/bin/python -m compileall -q src
}

need_run() {
    run_key="$here $(checksum requirements/run.txt)"
    is_ready .venv/ready-to-run "$run_key" && return
    make_environment
    install run
    install_project
    say "$run_key" >.venv/ready-to-run
}

need_check() {
    check_key="$here $(checksum requirements/run.txt requirements/check.txt)"
    is_ready .venv/ready-to-check "$check_key" && return
    can_install || rm -f .venv/ready-to-run
    need_run
    install check
    say "$check_key" >.venv/ready-to-check
}

# uv must use the interpreter that is here, not fetch one of its own.
UV_PYTHON_DOWNLOADS=never
export UV_PYTHON_DOWNLOADS

[ $# -gt 0 ] || stop "What is wanted? Say run, check or programs."
for wanted in "$@"; do
    case $wanted in
        run) need_run ;;
        check) need_check ;;
        programs) need_programs ;;
        *) stop "What is $wanted? Say run, check or programs." ;;
    esac
done
