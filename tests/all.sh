#!/usr/bin/env bash
# Holds the gates, installs the outside programs that the tests compare with and that are not there yet, then builds
# and runs every test, none left out. Ends with the totals on a line of their own.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

oracles=target/oracles
mkdir -p "$oracles"
log="$oracles/install.log"

# Where everything is compiled from nothing, nothing is kept for small changes to come: keeping it costs time. A folder in
# which somebody works stays as it is.
[ -d target/debug ] || touch "$oracles/compiled-whole"
if [ -e "$oracles/compiled-whole" ]; then export CARGO_INCREMENTAL=0; fi

# How long each stage took, for whoever wants it shorter.
stage() { echo "after $SECONDS s: $1"; }

as_root() {
    if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi
}

# Runs a step that needs the network, quietly, up to three times.
try() {
    local attempt
    for attempt in 1 2 3; do
        if "$@" >>"$log" 2>&1 </dev/null; then return 0; fi
        sleep $((attempt * 5))
    done
    echo "could not run: $*" >&2
    tail -n 30 "$log" >&2
    return 1
}

# ---- Outside programs: fetched while the gates are held and the tests are built, for one waits and the other computes. ----
install_outside() {
    # Debian packages: the program each brings, and its name.
    missing=()
    need() { command -v "$1" >/dev/null 2>&1 || missing+=("${@:2}"); }
    need pdftotext poppler-utils
    need exiftool libimage-exiftool-perl
    need qpdf qpdf
    need mutool mupdf-tools
    need chromium chromium
    need chromium-headless-shell chromium-headless-shell
    need firefox-esr firefox-esr
    need mcopy mtools
    need unzip unzip
    [ -x /usr/sbin/mkfs.fat ] || need mkfs.fat dosfstools
    need java default-jre-headless
    need node nodejs npm
    need npm npm
    python3 -c 'import ensurepip, venv' >/dev/null 2>&1 || missing+=(python3 python3-venv)
    if [ "${#missing[@]}" -gt 0 ]; then
        echo "installing: ${missing[*]}"
        export DEBIAN_FRONTEND=noninteractive
        try as_root apt-get -o DPkg::Lock::Timeout=300 -qq update
        try as_root apt-get -o DPkg::Lock::Timeout=300 -qq -y --no-install-recommends install "${missing[@]}"
    fi

    # Python and Node packages, once for each list of versions.
    if ! cmp -s tests/oracles/requirements.txt "$oracles/requirements.txt"; then
        echo "installing: packages of tests/oracles/requirements.txt"
        rm -rf "$oracles/venv"
        try python3 -m venv "$oracles/venv"
        try "$oracles/venv/bin/python" -m pip install --disable-pip-version-check -q -r tests/oracles/requirements.txt
        # Read as a folder of tables; what it would bring along for use as a program is large.
        try "$oracles/venv/bin/python" -m pip install --disable-pip-version-check -q --no-deps bd-warehouse==0.4.0
        cp tests/oracles/requirements.txt "$oracles/requirements.txt"
    fi
    if ! cmp -s tests/oracles/package.json "$oracles/package.json" || [ ! -d "$oracles/node_modules" ]; then
        echo "installing: packages of tests/oracles/package.json"
        rm -rf "$oracles/npm" "$oracles/node_modules" "$oracles/package.json"
        mkdir "$oracles/npm"
        cp tests/oracles/package.json "$oracles/npm/"
        try npm --prefix "$oracles/npm" install --no-package-lock --no-audit --no-fund --ignore-scripts
        mv "$oracles/npm/node_modules" "$oracles/node_modules"
        rm -rf "$oracles/npm"
        cp tests/oracles/package.json "$oracles/package.json"
    fi
}
installing="$oracles/installing.log"
install_outside >"$installing" 2>&1 &
install_run=$!
trap 'kill "$install_run" 2>/dev/null || true' EXIT

# ---- Gates: what needs no test to run. Nothing is built for tests before these hold. ----
# Crates' licences, doubled versions, unused crates and the notices are tests in Rust (tests/dependencies and
# tests/architecture/crates.rs) and run with the others.
gate() {
    local name="$1"
    shift
    echo "gate: $name"
    if ! "$@"; then
        echo "gate failed: $name: $*" >&2
        exit 1
    fi
}
for tool in cargo-fmt cargo-clippy; do
    "$tool" --version >/dev/null 2>&1 || { echo "$tool is missing: rustup component add rustfmt clippy" >&2; exit 1; }
done
gate "code is formatted" cargo fmt --check
try cargo fetch --locked
gate "clippy finds nothing" cargo clippy --locked --all-targets --quiet -- -D warnings
# ---- End of the gates. ----

stage "gates hold"


# With this set, a test that misses an outside program fails where it would otherwise say that it was left out.
export KITWRIGHT_ORACLES=required

try cargo fetch --locked
status=0
cargo test --locked --no-run 2>&1 || status=$?
[ "$status" = 0 ] || { echo "the tests do not build" >&2; exit "$status"; }
install_status=0
wait "$install_run" || install_status=$?
trap - EXIT
cat "$installing"
[ "$install_status" = 0 ] || { echo "outside programs that the tests need could not be installed" >&2; exit 1; }
stage "tests are built, outside programs are there"

# Two runs side by side, each with a log of its own: the tests beside the code, which only compute, and those of
# `tests`, which wait for outside programs much of their time. The first log is shown when the second run has ended.
beside="$oracles/beside.log" whole="$oracles/whole.log"
{
    beside_status=0
    cargo test --locked --no-fail-fast --lib --bins || beside_status=$?
    cargo test --locked --no-fail-fast --doc || beside_status=$?
    exit "$beside_status"
} >"$beside" 2>&1 &
beside_run=$!
cargo test --locked --no-fail-fast --test '*' -- --test-threads "$(($(nproc) + 1))" 2>&1 | tee "$whole" || status=$?
wait "$beside_run" || status=$?
cat "$beside"
stage "tests are run"

# `test result: ok. 12 passed; 0 failed; 1 ignored; ...`, one for each test program; a line of each is needed: the
# library, the program, the documentation, and `tests`.
read -r programs passed failed ignored < <(awk '/^test result:/ { n++; p += $4; f += $6; i += $8 } END { print n + 0, p + 0, f + 0, i + 0 }' "$beside" "$whole")
if [ "$programs" -lt 4 ]; then
    echo "only $programs test programs came to an end" >&2
    status=1
fi
if [ "$ignored" -gt 0 ]; then
    echo "$ignored tests were left out, but none may be" >&2
    status=1
fi
echo "$passed passed, $((failed + ignored)) failed"
exit "$status"
