#!/usr/bin/env bash
# Everything that `tests/all.sh` only samples, in full: made-up input, made-up manuals, and whatever else could go on for
# ever. Begin with `tests/all.sh`, which installs the outside programs and runs the rest.
#
# Usage: tests/long.sh [TIMES]   TIMES as many tries as in the sample, 50 where nothing is said.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

times="${1:-50}"
# `tests/random/dice.rs` counts with the first; the second is read by the library that makes up input, 256 in the sample.
export KITWRIGHT_TRIES="$times" PROPTEST_CASES="$((256 * times))"
export KITWRIGHT_ORACLES=required

# The tests of those files that make up input, or that say how often they try.
modules() { # FOLDER PATTERN
    local file module
    while read -r file; do
        module="${file#"$1"/}" module="${module%.rs}" module="${module%/mod}"
        echo "${module//\//::}::"
    done < <(grep -rlE --include='*.rs' --exclude=dice.rs "$2" "$1" | sort)
}
mapfile -t code < <(modules src 'proptest(::proptest)?!')
mapfile -t tests < <(modules tests '\btries\(|proptest(::proptest)?!')
if [ "${#code[@]}" = 0 ] || [ "${#tests[@]}" = 0 ]; then
    echo "no test makes up input" >&2
    exit 1
fi
printf 'tried %s times as often: %s\n' "$times" "${code[*]} ${tests[*]}"
status=0
cargo test --locked --no-fail-fast --lib -- "${code[@]}" || status=$?
cargo test --locked --no-fail-fast --test '*' -- "${tests[@]}" || status=$?
# In the optimised program: single mistakes of every kind, with the shares that are found and what stays silent; a run ended
# or failed at every call that changes the disk, races, power cuts, each with its number; and damaged input for every reader.
cargo test --locked --no-fail-fast --release --test main -- seeds:: crash:: --show-output || status=$?
KITWRIGHT_FUZZ_COUNT="$((200 * times))" cargo test --locked --release --test fuzz || status=$?
exit "$status"
