"""The ledger, booked again with collections.Counter from the sources: `ledger.py FOLDER` of random manuals.

The order of steps is taken as the project gives it; order.py looks at that.
"""

import sys
from collections import Counter, defaultdict
from fractions import Fraction
from itertools import accumulate

from sources import each_manual, entry


def listed(sources, made):
    count = Counter()
    for row in sources.parts:
        own = next((row[v] for v in sources.lineage(made["variant"]) if row[v].strip()), "0")
        count[row["number"]] = int(own) + sum(int(row[o] or 0) for o in made["options"])
    return count


def items(sources, made, step, key, name):
    for item in step.get(key, []):
        item = entry(item, name)
        if sources.holds(item.get("only"), made["variant"], made["options"]):
            yield item


def book_parts(sources, made, steps):
    """What each step takes out of the crate, part by part, and the first fault of each part.

    State: how many of a part are `loose` (finished, not fitted), `trial`, `fitted`, `off`.
    """
    pieces = {row["number"] for row in sources.parts if row["cut from"].strip()}
    available, taken = Counter(), Counter()
    pulled, named, faults = defaultdict(list), defaultdict(list), {}
    state = defaultdict(Counter)
    for step in steps:
        for item in items(sources, made, step, "parts", "part"):
            # Pieces are there from the item that cuts them on.
            for piece in item.get("becomes", []):
                piece = entry(piece, "part")
                available[piece["part"]] += int(piece.get("quantity", 1)) * int(item.get("quantity", 1))
            part, n, do = item["part"], int(item.get("quantity", 1)), item.get("do", "pull")
            now, fresh = state[part], 0
            if step["step"] not in named[part]:
                named[part].append(step["step"])

            def move(count, *sources_of, to):
                """Moves `count` from the states in turn; what they lack comes out of the crate."""
                for name in sources_of:
                    part_of_it = min(count, now[name])
                    now.subtract({name: part_of_it})
                    now[to] += part_of_it
                    count -= part_of_it
                now[to] += count
                return count

            if do == "pull":
                fresh = move(n, "loose", to="fitted")
            elif do == "trial fit":
                fresh = move(n, "off", "loose", to="trial")
            elif do == "finish":
                fresh = max(0, n - now.total())
                now["loose"] += fresh
            elif do == "remove":
                if now["trial"] + now["fitted"] < n:
                    faults.setdefault(part, ("removed", step["step"]))
                move(n, "trial", "fitted", to="off")
            elif do == "refit":
                if now["off"] < n:
                    faults.setdefault(part, ("refitted", step["step"]))
                move(n, "off", to="fitted")
            elif do == "use" and not taken[part] and not (part in pieces and available[part]):
                faults.setdefault(part, ("not there", step["step"]))
            taken[part] += fresh
            if fresh:
                pulled[part].append([step["step"], fresh])
                if part in pieces and taken[part] > available[part]:
                    faults.setdefault(part, ("not there", step["step"]))
    return pieces, available, pulled, named, faults


def hardware_of(sources, made, step):
    """What a step does with its hardware: (designation, action) and how many. Joints come first; what stands in
    the list as well is there to be compared, not added."""
    derived = Counter()
    for joint in items(sources, made, step, "joints", "joint"):
        places, do = int(joint.get("places", 1)), joint.get("do", "fit")
        derived[joint["fastener"], do] += places
        for washer in [*joint.get("under-head", []), *joint.get("under-nut", [])]:
            washer = entry(washer, "hardware")
            derived[washer["hardware"], do] += places * int(washer.get("quantity", 1))
        for name in (joint.get("nut"), joint.get("pin")):
            if name:
                derived[name, do] += places
    listed_too = Counter()
    for item in items(sources, made, step, "hardware", "hardware"):
        key = item["hardware"], item.get("do", "fit")
        if key not in derived:
            listed_too[key] += int(item.get("quantity", 1))
    return [*derived.items(), *listed_too.items()]


def book_hardware(sources, made, steps):
    """The need: the peak of what is out at once; of what is never used again, all that is fitted."""
    one_use = {row["designation"] for row in sources.hardware if row["one use"] == "yes"}
    moves, fault, out = defaultdict(list), {}, Counter()
    for step in steps:
        for (name, do), n in hardware_of(sources, made, step):
            if do == "remove":
                if out[name] < n:
                    fault.setdefault(name, ("removed", step["step"]))
                out[name] -= n
                moves[name].append(0 if name in one_use else -n)
            else:
                out[name] += n
                moves[name].append(n)
    need = {name: max(0, *accumulate(list_)) for name, list_ in moves.items()}
    return need, fault


def main(folder):
    count = compared = trial = pieces_seen = faulty = peaks = 0
    for path, sources, configurations in each_manual(folder):
        count += 1
        by_id = {s["step"]: s for s in sources.steps}
        for made in configurations:
            where = f"{path.name} {made['name']}"
            steps = [by_id[name] for name in made["order"]]
            first = {}
            for kind, about, step in made["faults"]:
                first.setdefault(about, (kind, step))
            want = listed(sources, made)
            pieces, available, pulled, named, faults = book_parts(sources, made, steps)
            need, hardware_faults = book_hardware(sources, made, steps)
            assert first == {**faults, **hardware_faults}, (where, first, faults, hardware_faults)
            for number in {row["number"] for row in sources.parts}:
                account = made["parts"].get(number, {"listed": 0, "pulled": [], "steps": []})
                expect = available[number] if number in pieces else want[number]
                assert account["listed"] == expect, (where, number, account, expect)
                assert account["steps"] == named[number], (where, number, account["steps"], named[number])
                if number in faults:
                    faulty += 1
                    continue
                assert account["pulled"] == pulled[number], (where, number, account["pulled"], pulled[number])
                compared += bool(pulled[number])
                pieces_seen += number in pieces and bool(pulled[number])
                trial += len(named[number]) > len(pulled[number]) > 0
            assert set(made["hardware"]) == set(need), (where, made["hardware"].keys(), need.keys())
            for name, account in made["hardware"].items():
                if name in hardware_faults:
                    faulty += 1
                    continue
                assert Fraction(account["need"]) == need[name], (where, name, account, need[name])
                assert sum(Fraction(n) for _, n in account["taken"]) == need[name], (where, name, account)
                peaks += 1
    assert min(compared, peaks) > 1000 and min(trial, pieces_seen, faulty) > 100, (compared, peaks, trial, pieces_seen, faulty)
    print(f"{count} manuals agree: {compared} parts, {pieces_seen} pieces, {trial} with trial fits, {peaks} items of hardware, {faulty} faulty")


main(sys.argv[1])
