"""What rests on the size of a part, found again with networkx from the sources: `touched.py FOLDER CASES`.

The cases are a JSON list of part, variant, options and what the project says is touched. A step with `opposite: yes` stands
for two; the second takes the opposite parts.
"""

import json
import sys
from pathlib import Path

import networkx as nx

from sources import Sources, entry


def both_hands(sources):
    opposite = {row["number"]: row["opposite"] for row in sources.parts if row["opposite"].strip()}

    def swapped(node):
        if isinstance(node, dict):
            return {k: swapped(v) for k, v in node.items()}
        if isinstance(node, list):
            return [swapped(v) for v in node]
        return opposite.get(node, node)

    for step in sources.steps:
        yield step["step"], step
        if step.get("opposite") == "yes":
            other = {"left": "right", "right": "left"}[step["hand"]]
            yield f"{step['step']}:{other}", swapped(step)


def graph(sources, variant, options):
    def here(items):
        for index, item in enumerate(items):
            if sources.holds(entry(item, "part").get("only"), variant, options):
                yield index, entry(item, "part")

    g = nx.DiGraph()
    for name, step in both_hands(sources):
        if not sources.holds(step.get("only"), variant, options):
            continue
        for index, joint in here(step.get("joints", [])):
            stack = [member for _, member in here(joint.get("stack", []))]
            for member in stack:
                if "thickness" not in member and member.get("through") != "length":
                    g.add_edge(("size", member["part"]), f"joint {name} {index}")
            for a, b in zip(stack, stack[1:]):
                if a.get("through") == b.get("through") == "tube":
                    g.add_edge(("size", a["part"]), f"part {b['part']}")
                    g.add_edge(("size", b["part"]), f"part {a['part']}")
        for index, cut in here(step.get("cuts", [])):
            for key in ("part", "onto"):
                if key in cut:
                    g.add_edge(("size", cut[key]), f"cut {name} {index}")
    for row in sources.parts:
        if row["cut from"].strip():
            g.add_edge(("size", row["cut from"]), ("size", row["number"]))
            g.add_edge(("size", row["cut from"]), f"part {row['number']}")
        if row["opposite"].strip():
            g.add_edge(("size", row["number"]), f"part {row['opposite']}")
    return g


sources = Sources(Path(sys.argv[1]))
cases = json.loads(Path(sys.argv[2]).read_text(encoding="utf-8"))
for case in cases:
    g = graph(sources, case["variant"], case["options"])
    start = ("size", case["part"])
    wanted = {n for n in nx.descendants(g, start) if isinstance(n, str)} if start in g else set()
    wanted.discard(f"part {case['part']}")
    assert set(case["touched"]) == wanted, (case["part"], sorted(set(case["touched"]) ^ wanted))
print(f"{len(cases)} parts agree")
