"""Changes of words against difflib, changes of quantities against collections.Counter: `changes.py FILE`."""

import json
import sys
from collections import Counter
from difflib import SequenceMatcher


def words(case):
    before, after, script = case["from"], case["to"], case["script"]
    assert [w for sign, w in script if sign != "+"] == before, case
    assert [w for sign, w in script if sign != "-"] == after, case
    removed = added = 0
    for tag, i1, i2, j1, j2 in SequenceMatcher(None, before, after, autojunk=False).get_opcodes():
        if tag != "equal":
            removed += i2 - i1
            added += j2 - j1
    ours = Counter(sign for sign, _ in script)
    assert ours["-"] + ours["+"] <= removed + added, (case, removed, added)
    # What both scripts take out beyond what they put in is the same, word by word.
    net = Counter()
    for sign, word in script:
        net[word] += {"+": 1, "-": -1, " ": 0}[sign]
    wanted = Counter(after)
    wanted.subtract(before)
    assert {w: n for w, n in net.items() if n} == {w: n for w, n in wanted.items() if n}, case


def quantities(case):
    change = Counter(case["to"])
    change.subtract(case["from"])
    assert {p: n for p, n in change.items() if n} == {p: n for p, n in case["change"].items() if n}, case


with open(sys.argv[1], encoding="utf-8") as file:
    cases = json.load(file)
for case in cases["words"]:
    words(case)
for case in cases["quantities"]:
    quantities(case)
print(f"{len(cases['words'])} texts and {len(cases['quantities'])} lists agree")
