"""Pick lists as Python's csv module reads them: cells.py OUT

No cell begins as a formula does in a spreadsheet program (=, +, -, @, also behind white space), but for plain negative
numbers; every row has every column.
"""

import csv
import re
import sys
from pathlib import Path

COLUMNS = ["step", "number", "kind", "item", "designation", "quantity", "hand", "bin", "bag", "crate", "goes with", "on back order",
           "in place of"]
FORMULA = re.compile(r"[\s\0]*[=+\-@＝＋－＠]|[\t\r\n]")
NUMBER = re.compile(r"-\d+(\.\d+)?")


def main(out):
    files = sorted(Path(out).glob("*/pick-lists.csv"))
    rows = 0
    for path in files:
        raw = path.read_bytes()
        assert raw.startswith(b"\xef\xbb\xbf"), f"{path}: a spreadsheet program would take it for another encoding"
        assert raw.count(b"\n") == raw.count(b"\r\n"), f"{path}: RFC 4180 ends lines with CR LF"
        with path.open(encoding="utf-8-sig", newline="") as file:
            table = list(csv.reader(file, strict=True))
        assert table[0] == COLUMNS, (path, table[0])
        for row in table[1:]:
            assert len(row) == len(COLUMNS), (path, row)
            for cell in row:
                assert NUMBER.fullmatch(cell) or not FORMULA.match(cell), (path, row, cell)
                rows += cell.startswith("'") and FORMULA.match(cell[1:]) is not None
        print(f"{path}: {len(table) - 1} rows")
    assert files
    print(f"{len(files)} lists, {rows} cells made text")


main(sys.argv[1])
