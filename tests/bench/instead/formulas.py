"""The other thing that people would have instead: a workbook of formulas over the survey's own sheet.

It is made before anything is timed; what is timed is a spreadsheet program that opens it, works every formula out
and saves it. It does what `script.py` does, but for the cuts: formulas put each rail on the last bar that was begun
(next-fit), for a look at all bars that are begun takes a sheet as wide as it is long.

requirements: pip install openpyxl.  `python formulas.py SURVEY.xlsx OUT.xlsx`
"""

from __future__ import annotations

import sys

import openpyxl

# Each formula stands in row 2 and is copied down; `{above}` is the row before, `{last}` the survey's last row.
SIZES = {
    "Unit": "=Openings!C{row}",
    "Opening": "=Openings!A{row}",
    "Mount": '=IF(Openings!J{row}>=Openings!K{row}+76.2,"inside","outside")',
    "Width": '=IF(C{row}="inside",INT(MIN(Openings!F{row}:G{row})-12.7),'
             "INT(MAX(Openings!F{row}:G{row})+MIN(50.8,Openings!L{row}-9.525)+MIN(50.8,Openings!M{row}-9.525)))",
    "Drop": '=IF(C{row}="inside",INT(MIN(Openings!H{row}:I{row})-12.7),IF(Openings!E{row}="window",'
            "INT(152.4+MAX(Openings!H{row}:I{row})+50.8),INT(152.4+MIN(Openings!H{row}:I{row})-12.7)))",
    "Line": "=IFERROR(INDEX(F$1:F{above},MATCH(G{row},G$1:G{above},0)),MAX(F$1:F{above})+1)",
    "Key": '=C{row}&" "&D{row}&" "&E{row}',
}
ORDER = {
    "Line": "=IF(ROW()-1<=MAX(Sizes!F$2:F${last}),ROW()-1,\"\")",
    "Quantity": '=IF(A{row}="","",COUNTIF(Sizes!F$2:F${last},A{row}))',
    "Mount": '=IF(A{row}="","",INDEX(Sizes!C$2:C${last},MATCH(A{row},Sizes!F$2:F${last},0)))',
    "Width": '=IF(A{row}="","",INDEX(Sizes!D$2:D${last},MATCH(A{row},Sizes!F$2:F${last},0)))',
    "Drop": '=IF(A{row}="","",INDEX(Sizes!E$2:E${last},MATCH(A{row},Sizes!F$2:F${last},0)))',
}
CUTS = {
    "Piece": "=LARGE(Sizes!D$2:D${last},ROW()-1)-6.35",
    "Bar": "=IF(N(C{above})>=A{row}+3,B{above},N(B{above})+1)",
    "Room left": "=IF(B{row}=B{above},C{above},5783)-A{row}-3",
}


def main() -> None:
    survey, out = sys.argv[1:]
    book = openpyxl.load_workbook(survey)
    last = book["Openings"].max_row
    for name, columns in {"Sizes": SIZES, "Order": ORDER, "Cuts": CUTS}.items():
        sheet = book.create_sheet(name)
        sheet.append(list(columns))
        for row in range(2, last + 1):
            sheet.append([formula.format(row=row, above=row - 1, last=last) for formula in columns.values()])
    book.save(out)


if __name__ == "__main__":
    main()
