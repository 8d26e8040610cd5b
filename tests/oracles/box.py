"""What lies in the crates of each kit, summed again with collections.Counter: `box.py FOLDER`.

FOLDER holds a folder for each kit, with its receiving-list.csv and pick-lists.csv. For every item:
needed + spares - on back order + sent in addition = in the box; and what the steps pull, with what they wait for, is what
is needed.
"""

import csv
import pathlib
import sys
from collections import Counter
from fractions import Fraction


def number(text):
    return Fraction(text.split()[0]) if text.strip() else Fraction(0)


def rows(path):
    with open(path, encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def main(folder):
    seen, wrong = Counter(), []
    for kit in sorted(pathlib.Path(folder).iterdir()):
        box = rows(kit / "receiving-list.csv")
        needed, in_box, owed = Counter(), Counter(), Counter()
        for row in box:
            item = row["item"]
            sum_of = number(row["needed"]) + number(row["spares"]) - number(row["on back order"]) + number(row["sent in addition"])
            if sum_of != number(row["in the box"]):
                wrong.append(f"{kit.name}: {item}: {sum_of} is not {row['in the box']}")
            needed[item] += number(row["needed"])
            in_box[item] += number(row["in the box"])
            owed[item] += number(row["on back order"])
        pulled, waited = Counter(), Counter()
        for row in rows(kit / "pick-lists.csv"):
            pulled[row["designation"]] += number(row["quantity"])
            waited[row["designation"]] += number(row["on back order"])
        for item in needed:
            if pulled[item] + waited[item] != needed[item]:
                wrong.append(f"{kit.name}: {item}: {pulled[item]} pulled and {waited[item]} waited for, {needed[item]} needed")
            if waited[item] != owed[item]:
                wrong.append(f"{kit.name}: {item}: {waited[item]} waited for, {owed[item]} on back order")
        for item in set(pulled) - set(needed):
            wrong.append(f"{kit.name}: {item} is pulled and not in the box")
        seen["kits"] += 1
        seen["items"] += len(box)
        seen["owed"] += sum(1 for row in box if number(row["on back order"]))
        seen["spares"] += sum(1 for row in box if number(row["spares"]))
        seen["stand for another"] += sum(1 for row in box if row["in place of"])
    print(", ".join(f"{n} {what}" for what, n in seen.items()))
    print("\n".join(wrong))
    sys.exit(1 if wrong else 0)


main(sys.argv[1])
