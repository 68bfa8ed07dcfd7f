"""Writes the odd files of this folder with writers that are not Sillbook's own.

    python3 -m pip install --target DIR openpyxl xlwt odfpy pyxlsbwriter
    PYTHONPATH=DIR python3 tests/odd/make.py

LibreOffice's `soffice` converts some of them. The files are checked in, so that a test needs none
of this; beside each stands what it must give, in the form that tests/messes.rs describes.
"""

import datetime
import re
import shutil
import subprocess
import tempfile
import zipfile
from pathlib import Path

import openpyxl
import xlwt
from odf.opendocument import OpenDocumentSpreadsheet
from odf.office import Annotation
from odf.table import CoveredTableCell, Table, TableCell, TableColumn, TableRow
from odf.text import P, S, Span
from openpyxl.chart import BarChart, Reference
from pyxlsbwriter import XlsbWriter

HERE = Path(__file__).parent
MADE = datetime.datetime(2026, 3, 2, 8, 0, 0)


def workbook(rows, title="Windows"):
    book = openpyxl.Workbook()
    book.properties.created = book.properties.modified = MADE
    sheet = book.active
    sheet.title = title
    for row in rows:
        sheet.append(row)
    return book, sheet


def patched(name, part, change):
    """Rewrites one part of a workbook as raw XML."""
    path = HERE / name
    with zipfile.ZipFile(path) as old:
        parts = {entry: old.read(entry) for entry in old.namelist()}
    before = parts[part].decode()
    after = change(before)
    assert after != before, f"{name}: nothing was changed"
    parts[part] = after.encode()
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for entry, content in parts.items():
            new.writestr(zipfile.ZipInfo(entry, (2026, 3, 2, 8, 0, 0)), content, zipfile.ZIP_DEFLATED)


SHEET = "xl/worksheets/sheet1.xml"
PLAIN = [["Mark", "Room", "Width (mm)", "Height (mm)"], ["W1", "Kitchen", 900, 1200], ["W2", "Bath", 600, 650]]


def merged_two_row_headings():
    book, sheet = workbook([
        ["WINDOW SCHEDULE", None, None, None, None],
        [],
        ["Flat", "Mark", "Opening (cm)", None, "Remarks"],
        [None, None, "Width", "Height", None],
        ["1A", "W1", 90.5, 120, "obscure"],
        [None, "W2", 145, 135, None],
        ["1B", "W1", 90, 120, None],
        [None, "W2", 145, 134.5, None],
    ], "Schedule")
    for block in ["A1:E1", "A3:A4", "B3:B4", "C3:D3", "E3:E4", "A5:A6", "A7:A8"]:
        sheet.merge_cells(block)
    sheet.row_dimensions[6].hidden = True
    sheet.column_dimensions["E"].hidden = True
    book.save(HERE / "merged-two-row-headings.xlsx")


def filtered_rows():
    rows = [["Mark", "Level", "Width (mm)", "Height (mm)"]]
    rows += [[f"W{n}", 1 + n % 2, 900 + n, 1200] for n in range(1, 6)]
    book, sheet = workbook(rows)
    sheet.auto_filter.ref = "A1:D6"
    sheet.auto_filter.add_filter_column(1, ["1"])
    for row in (2, 4, 6):
        sheet.row_dimensions[row].hidden = True
    book.save(HERE / "filtered-rows.xlsx")


def formulas_without_results():
    rows = [PLAIN[0], ["W1", "Kitchen", "=850+50", 1200], ["W2", "Bath", 600, 650]]
    workbook(rows)[0].save(HERE / "formulas-without-results.xlsx")


def spill_error():
    rows = [PLAIN[0] + ["Area"], ["W1", "Kitchen", 900, 1200, 1], ["W2", "Bath", 600, 650, 1]]
    workbook(rows)[0].save(HERE / "spill-error.xlsx")

    def change(xml):
        xml = re.sub(r'<c r="E2"[^>]*><v>1</v></c>', '<c r="E2" t="e"><v>#SPILL!</v></c>', xml)
        return re.sub(r'<c r="C3"[^>]*><v>600</v></c>', '<c r="C3" t="e"><f>x()</f><v>#CALC!</v></c>', xml)

    patched("spill-error.xlsx", SHEET, change)


def inline_rich_strings():
    workbook(PLAIN)[0].save(HERE / "inline-rich-strings.xlsx")

    def change(xml):
        rich = (
            '<c r="B2" t="inlineStr"><is><r><t xml:space="preserve">Kitchen </t></r>'
            "<r><rPr><b/></rPr><t>&amp; diner</t></r></is></c>"
        )
        return re.sub(r'<c r="B2".*?</c>', rich, xml)

    patched("inline-rich-strings.xlsx", SHEET, change)


def far_away_cell():
    book, sheet = workbook(PLAIN)
    sheet["XFD1048576"] = " "
    book.save(HERE / "far-away-cell.xlsx")


def dates_in_size_cells():
    rows = [PLAIN[0], ["W1", "Kitchen", datetime.date(2026, 3, 4), 1200], ["W2", "Bath", 600, 650]]
    workbook(rows)[0].save(HERE / "dates-in-size-cells.xlsx")


def number_formats_that_look_like_dates():
    book, sheet = workbook(PLAIN)
    formats = ['0" mm"', "0\\ \\m\\m", '[Red]0.0', '#,##0"d x h"', "# ??/??"]
    sheet.append(["W3", "Hall", 900, 1200])
    for cell, form in zip(["C2", "D2", "C3", "D3", "C4"], formats):
        sheet[cell].number_format = form
    book.save(HERE / "number-formats-that-look-like-dates.xlsx")


def float_noise():
    rows = [["Mark", "Width (mm)", "Height (m)"], ["W1", 876.0000000000001, 1.1 * 3], ["W2", 0.1 + 0.2 + 599.7, 1.2]]
    workbook(rows)[0].save(HERE / "float-noise.xlsx")


def chart_sheet_and_notes():
    book, sheet = workbook(PLAIN)
    sheet["C2"].comment = openpyxl.comments.Comment("measured twice", "site")
    chart = BarChart()
    chart.add_data(Reference(sheet, min_col=3, min_row=1, max_row=3), titles_from_data=True)
    book.create_chartsheet("Chart", 0).add_chart(chart)
    book.save(HERE / "chart-sheet-first.xlsx")


def styled_to_the_last_column():
    book, sheet = workbook(PLAIN)
    for row in (1, 2, 3, 4):
        for column in range(1, 400):
            sheet.cell(row, column).border = openpyxl.styles.Border(bottom=openpyxl.styles.Side("thin"))
    book.save(HERE / "ghost-columns.xlsx")
    patched("ghost-columns.xlsx", SHEET, lambda xml: re.sub(r'<dimension ref="[^"]*"', '<dimension ref="A1:XFD1048576"', xml))


def sheet_for_each_floor():
    book, sheet = workbook([["Apartment", "Window", "Width (in)", "Height (in)"], [101, "A", 36, '47 1/2"'], [None, "B", 72, 48]], "Floor 1")
    sheet.merge_cells("A2:A3")
    second = book.create_sheet("Floor 2")
    for row in [["Apartment", "Window", "Width (in)", "Height (in)"], [201, "A", 36.25, 48], [None, "B", 72, 47.875]]:
        second.append(row)
    second.merge_cells("A2:A3")
    book.create_sheet("Empty")
    book.save(HERE / "sheet-for-each-floor.xlsx")


def phonetic_guides():
    """Furigana beside a text, and a return written as an escape."""
    workbook(PLAIN)[0].save(HERE / "phonetic-guides.xlsx")

    def change(xml):
        guide = (
            '<c r="B2" t="inlineStr"><is><t>台所</t><rPh sb="0" eb="2"><t>ダイドコロ</t></rPh>'
            '<phoneticPr fontId="1"/></is></c>'
        )
        xml = re.sub(r'<c r="B2".*?</c>', guide, xml)
        return re.sub(r'(<c r="B3".*?<t>)Bath', r"\1Bath_x000D_\nup", xml)

    patched("phonetic-guides.xlsx", SHEET, change)


def cells_without_addresses():
    """Addresses may be left out: each cell then follows the one before it."""
    workbook(PLAIN)[0].save(HERE / "cells-without-addresses.xlsx")

    def change(xml):
        return re.sub(r'<(row|c) r="[A-Z]*\d+"', r"<\1", xml)

    patched("cells-without-addresses.xlsx", SHEET, change)


def prefixed_namespace():
    workbook(PLAIN)[0].save(HERE / "prefixed-namespace.xlsx")

    def change(xml):
        xml = re.sub(r"<(/?)([a-zA-Z])", r"<\1x:\2", xml)
        return xml.replace("xmlns=", "xmlns:x=")

    patched("prefixed-namespace.xlsx", SHEET, change)
    patched("prefixed-namespace.xlsx", "xl/workbook.xml", lambda xml: change(xml).replace("x:xml ", "xml "))


def iso_dates_and_truths():
    workbook(PLAIN)[0].save(HERE / "iso-dates-and-truths.xlsx")

    def change(xml):
        xml = re.sub(r'<c r="C2".*?</c>', '<c r="C2" t="d"><v>2026-03-04</v></c>', xml)
        return re.sub(r'<c r="D3".*?</c>', '<c r="D3" t="b"><v>1</v></c>', xml)

    patched("iso-dates-and-truths.xlsx", SHEET, change)


def headings_with_breaks():
    rows = [["Mark", "Opening\nwidth\n(mm)", "Height\n(mm)", "Sill\u00a0height (mm)"], ["W1 ", 900, "1\u202f200", " 850 "]]
    workbook(rows)[0].save(HERE / "headings-with-breaks.xlsx")


def by_xlwt():
    book = xlwt.Workbook()
    sheet = book.add_sheet("Fenster")
    sheet.write_merge(0, 0, 0, 4, "Fensterliste")
    for column, heading in enumerate(["Nr.", "Raum", "Breite (cm)", "Höhe (cm)", "Anzahl"]):
        sheet.write(2, column, heading)
    rows = [["F1", "Küche", 90.5, 120, 2], ["F2", "Bad", "60,5", 59.8, 1]]
    for row, cells in enumerate(rows, 3):
        for column, cell in enumerate(cells):
            sheet.write(row, column, cell)
    sheet.write(5, 0, "Summe")
    sheet.write(5, 4, xlwt.Formula("SUM(E4:E5)"))
    sheet.row(4).hidden = True
    book.save(str(HERE / "german-list-of-the-nineties.xls"))


def by_odfpy():
    document = OpenDocumentSpreadsheet()
    table = Table(name="Finestre")
    table.addElement(TableColumn(numbercolumnsrepeated=16384))

    def add(cells, **attributes):
        row = TableRow(**attributes)
        for cell in cells:
            row.addElement(cell)
        table.addElement(row)

    def text(words, **attributes):
        cell = TableCell(valuetype="string", **attributes)
        cell.addElement(P(text=words))
        return cell

    def number(value):
        cell = TableCell(valuetype="float", value=str(value))
        cell.addElement(P(text=str(value).replace(".", ",")))
        return cell

    add([text("Piano"), text("Codice"), text("Larghezza (cm)"), text("Altezza (cm)")])
    add([text("1", numberrowsspanned=2), text("F1"), number(100), number(140.5)])
    add([CoveredTableCell(), text("F2"), number(60), number(60)])
    add([TableCell(numbercolumnsrepeated=16384)], numberrowsrepeated=3)
    add([text("2"), text("F3"), number(90), number(90), TableCell(numbercolumnsrepeated=16380)])
    add([TableCell(numbercolumnsrepeated=16384)], numberrowsrepeated=1048570)
    document.spreadsheet.addElement(table)
    document.save(str(HERE / "repeated-to-the-end.ods"))


def annotated_by_odfpy():
    """Comments, paragraphs, runs of spaces, percentages and dates in an OpenDocument table."""
    document = OpenDocumentSpreadsheet()
    table = Table(name="Windows")

    def add(*cells):
        row = TableRow()
        for cell in cells:
            row.addElement(cell)
        table.addElement(row)

    def text(words):
        cell = TableCell(valuetype="string")
        cell.addElement(P(text=words))
        return cell

    def number(value, shown):
        cell = TableCell(valuetype="float", value=str(value))
        cell.addElement(P(text=shown))
        return cell

    noted = text("W1")
    note = Annotation()
    note.addElement(P(text="measured twice"))
    noted.insertBefore(note, noted.firstChild)
    spaced = TableCell(valuetype="string")
    words = P(text="Kitchen")
    words.addElement(S(c=1))
    words.addElement(Span(text="north"))
    spaced.addElement(words)
    spaced.addElement(P(text="upper"))
    dated = TableCell(valuetype="date", datevalue="2026-03-04")
    dated.addElement(P(text="04.03.26"))
    add(text("Mark"), text("Room"), text("Width (mm)"), text("Height (mm)"))
    add(noted, spaced, number(900.5, "901"), number(1200, "1.200,00"))
    add(text("W2"), text("Bath"), dated, number(650, "650"))
    document.spreadsheet.addElement(table)
    document.save(str(HERE / "annotated.ods"))


def by_pyxlsbwriter():
    rows = PLAIN + [["W3", "Hall", '35 1/2"', 1200.5], ["W4", "Hall", datetime.date(2026, 3, 4), 1200]]
    with XlsbWriter(str(HERE / "binary-workbook.xlsb"), compressionLevel=6) as writer:
        writer.add_sheet("Windows")
        writer.write_sheet(rows)


def converted(source, ending, name):
    """A file as LibreOffice writes it."""
    with tempfile.TemporaryDirectory() as folder:
        profile = f"-env:UserInstallation=file://{folder}/profile"
        command = ["soffice", profile, "--headless", "--convert-to", ending, "--outdir", folder, str(HERE / source)]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
        shutil.copy(Path(folder) / Path(source).with_suffix("." + ending).name, HERE / name)


def csv(name, text, encoding="utf-8", ends="\r\n"):
    (HERE / name).write_bytes(text.replace("\n", ends).encode(encoding))


def by_hand():
    lines = "Mark,Room,Width (mm),Height (mm)\nW1,Küche,900,1200\nW2,Bath,600,650\n"
    csv("comma-utf-8.csv", lines, ends="\n")
    csv("comma-utf-8-mark.csv", lines, "utf-8-sig")
    csv("comma-utf-16-le.csv", "\ufeff" + lines, "utf-16-le")
    csv("comma-utf-16-be.csv", "\ufeff" + lines, "utf-16-be")
    csv("tab-utf-16-le.csv", "\ufeff" + lines.replace(",", "\t"), "utf-16-le")
    csv("tab-1252.csv", lines.replace(",", "\t"), "cp1252")
    csv("old-line-ends.csv", lines, "utf-8", "\r")
    german = "Nr.;Raum;Breite (cm);Höhe (cm);Bemerkung\nF1;Küche;90,5;120;Größe geprüft – ok\nF2;Bad;60;59,8;\n;;;;\nSumme;;;;\n"
    csv("semicolon-decimal-comma-1252.csv", german, "cp1252")
    csv("sep-line.csv", "sep=;\n" + german, "cp1252")
    csv("quoted-line-breaks.csv", 'Mark,"Room\nname","Width, overall (mm)","Height (mm)",Remarks\nW1,Kitchen,"900","1,200","tiled; see\nphoto ""12"""\nW2,"Bath, upper",600,650,\n')
    csv("notes-with-semicolons.csv", 'Mark,Room,Width (mm),Height (mm),Note\nW1,Kitchen,900,1200,"tiled; sill loose\npipe at left; see photo; ""12""\n; call first"\nW2,Bath,600,650,"ceiling low; 2,100\nmm; no; drill"\n')
    csv("quoted-inches.csv", 'Opening,Room,Width,Height\nD1,Living,"5\' 10 3/4""","6\' 8"""\nW1,Bath,"23 1/2""","35 1/2"""\n')
    csv("ragged-rows.csv", "WINDOWS\n\nMark,Room,Width (mm),Height (mm),,,\nW1,Kitchen,900,1200\nW2,Bath,600,650,,,,,,\nprinted 2 March\n")
    csv("comma-in-quoted-decimals.csv", 'Mark,Width (cm),Height (cm)\nW1,"90,5","120"\nW2,"60","59,8"\n')
    csv("marks-as-written.csv", "Unit,Mark,Width (mm),Height (mm),Note\n0101,007,900,1200,=1+1\n0102,1E3,900,1200,TRUE\n0103,3-4,900,1200,12.50\n0104,1/2,900,1200,50%\n")
    csv("stray-quote.csv", 'Mark,Width (in),Height (in),Note\nW1,36,48,12" reveal\nW2,35 1/2,47,none\n')
    csv("empty.csv", "")
    (HERE / "a-workbook-by-another-name.csv").write_bytes((HERE / "float-noise.xlsx").read_bytes())
    csv("a-web-page.xls", "<html><table><tr><td>Mark</td><td>Width (mm)</td></tr><tr><td>W1</td><td>900</td></tr></table></html>\n")
    csv("title-with-commas.csv", "Window list, block A, as measured, second visit\n\nMark;Width (mm);Height (mm)\nW1;900;1200\nW2;600;650\n")


for make in [merged_two_row_headings, filtered_rows, formulas_without_results, spill_error, inline_rich_strings,
             far_away_cell, dates_in_size_cells, number_formats_that_look_like_dates, float_noise,
             chart_sheet_and_notes, phonetic_guides, cells_without_addresses, prefixed_namespace,
             iso_dates_and_truths, headings_with_breaks, styled_to_the_last_column, sheet_for_each_floor, by_xlwt, by_odfpy, annotated_by_odfpy,
             by_pyxlsbwriter, by_hand]:
    make()
for ending in ["ods", "xls"]:
    converted("merged-two-row-headings.xlsx", ending, f"merged-two-row-headings.{ending}")
    converted("sheet-for-each-floor.xlsx", ending, f"sheet-for-each-floor.{ending}")
    converted("filtered-rows.xlsx", ending, f"filtered-rows.{ending}")
converted("formulas-without-results.xlsx", "ods", "formulas-with-results.ods")
