# Sourced by start and check: sets $python to a Python 3.11 or newer that can make a virtual environment.

# Without compiled files every import stays two to four times slower.
unset PYTHONDONTWRITEBYTECODE

works() {
    command -v "$1" >/dev/null 2>&1 &&
        "$1" -c 'import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1
}

find_python() {
    # A working environment answers at once; it was made by a Python that passed this test.
    if [ -x "$here/.venv/bin/python" ] && "$here/.venv/bin/python" -S -c '' >/dev/null 2>&1; then
        python="$here/.venv/bin/python"
        return 0
    fi
    for python in python3 python3.14 python3.13 python3.12 python3.11 /usr/bin/python3; do
        if works "$python"; then return 0; fi
    done
    return 1
}

if ! find_python; then
    remedy="apt-get update && apt-get install -y --no-install-recommends python3 python3-venv"
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
        echo "set-up: no Python 3.11 with venv found, so running: $remedy" >&2
        DEBIAN_FRONTEND=noninteractive sh -c "$remedy" >&2 || true
    fi
    if ! find_python; then
        echo "set-up: stopped. Python 3.11 or newer with its venv module is missing." >&2
        echo "        Debian and Ubuntu: sudo sh -c '$remedy'" >&2
        echo "        elsewhere: install Python 3.11 or newer, then start again" >&2
        exit 1
    fi
fi
