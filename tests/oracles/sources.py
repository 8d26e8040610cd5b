"""A manual's sources read again, apart from the project: conditions, steps, parts and hardware as plain values."""

import csv
import json
import re
from pathlib import Path

import yaml


class Sources:
    def __init__(self, folder):
        self.settings = yaml.safe_load((folder / "manual.yaml").read_text(encoding="utf-8"))
        self.parts = rows(folder / "parts.csv")
        self.hardware = rows(folder / "hardware.csv")
        self.steps = []
        for path in folder.glob("steps/**/*.md"):
            _, front, _ = path.read_text(encoding="utf-8").split("---\n", 2)
            # BaseLoader keeps every scalar as the text that was written.
            step = yaml.load(front, Loader=getattr(yaml, "CBaseLoader", yaml.BaseLoader))
            step["path"] = path.relative_to(folder).as_posix()
            self.steps.append(step)
        self.steps.sort(key=lambda s: natural(s["path"]))
        self.sections = [s["section"] for s in self.settings["sections"]]

    def lineage(self, variant):
        line = [variant]
        while (base := self.settings["variants"][line[-1]].get("based-on")) is not None:
            line.append(base)
        return line

    def holds(self, condition, variant, options):
        """Whether an `only` holds: its names become truth values of a Python expression."""
        if condition is None:
            return True
        lineage = self.lineage(variant)
        # A kit that is built as it is is converted from nothing.
        condition = re.sub(r"from \w+ to \w+", "False", condition)
        text = re.sub(r"(\w+) and based", lambda m: str(m[1] in lineage), condition)
        names = {"True", "False", "and", "or", "not"}

        def truth(match):
            word = match[0]
            return word if word in names else str(word == variant or word in options)

        return eval(re.sub(r"\w+", truth, text), {"__builtins__": {}})


def rows(path):
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def natural(text):
    """Digits count as numbers and stand where the sign 0 stands; other signs by their code."""
    tokens = [(ord("0"), int(t)) if t.isdigit() else (ord(t), 0) for t in re.findall(r"\d+|\D", text)]
    return tokens, text


def entry(item, name):
    """A list item as a mapping: `2 x P-001` or `P-001` in its short form."""
    if isinstance(item, dict):
        return item
    match = re.fullmatch(r"(\d+) x (.+)", item)
    return {name: match[2], "quantity": match[1]} if match else {name: item}


def each_manual(folder):
    """The folders below `folder`, each with its sources and what the project made of them."""
    for path in sorted(Path(folder).iterdir(), key=lambda p: int(p.name)):
        yield path, Sources(path), json.loads((path / "resolved.json").read_text(encoding="utf-8"))
