//! Labels and their codes (ISO/IEC 18004, quiet zone of four modules), read by a decoder of others.

use std::collections::BTreeMap;
use std::io::Cursor;
use std::path::Path;

use crate::support::{block, package::Package};
use sillbook::drawing::code::{DOTS_A_MODULE, QUIET_ZONE, code};
use sillbook::pipeline::{self, Silent};
use sillbook::report::Report;
use sillbook::sizing::Release;
use sillbook::workbook::{Limits, write};

/// The dots of a picture, row by row: true is black.
fn dots(file: &[u8]) -> (usize, Vec<bool>) {
    let mut decoder = png::Decoder::new(Cursor::new(file));
    decoder.set_transformations(png::Transformations::EXPAND);
    let mut reader = decoder.read_info().unwrap();
    let mut buffer = vec![0; reader.output_buffer_size().unwrap()];
    let frame = reader.next_frame(&mut buffer).unwrap();
    assert_eq!(frame.color_type, png::ColorType::Grayscale);
    (frame.width as usize, buffer[..frame.buffer_size()].iter().map(|light| *light < 128).collect())
}

/// What a code says.
fn read(file: &[u8]) -> String {
    let (side, dots) = dots(file);
    let gray = |x: usize, y: usize| if dots[y * side + x] { 0 } else { 255 };
    let mut image = rqrr::PreparedImage::prepare_from_greyscale(side, side, gray);
    let grids = image.detect_grids();
    assert_eq!(grids.len(), 1);
    grids[0].decode().unwrap().1
}

fn package(report: &Report<'_>, limits: Limits) -> Package {
    let mut file = Cursor::new(Vec::new());
    write(report, limits, &mut file).unwrap();
    Package::of(file.into_inner())
}

/// The texts of every label, sheet by sheet, row by row: left one, right one.
fn labels(package: &Package) -> Vec<Vec<String>> {
    let mut labels = Vec::new();
    for (_, sheet) in package.going_on("Labels") {
        let last = sheet.cells.keys().next_back().map_or(0, |at| at.0);
        for top in (3..=last).step_by(7) {
            for column in [0, 3] {
                let words = (top..top + 6).filter_map(|row| sheet.cells.get(&(row, column)));
                let words: Vec<String> = words.map(|cell| cell.text.clone()).collect();
                if !words.is_empty() {
                    labels.push(words);
                }
            }
        }
    }
    labels
}

#[test]
fn a_decoder_reads_each_text_and_its_quiet_zone_is_white() {
    let long = "Gardener's house, north wing / ".repeat(9);
    for text in ["W1", "0304/D1", "Block A/Flat 12/Küche", "部屋 三〇四", "=1+1", &*long] {
        let picture = code(text).unwrap().unwrap();
        assert_eq!(read(&picture.png), text);
        let (side, dots) = dots(&picture.png);
        assert_eq!((picture.width, picture.height), (side as u32, side as u32));
        let zone = QUIET_ZONE * DOTS_A_MODULE;
        let in_zone = |place: usize| {
            let (x, y) = (place % side, place / side);
            x < zone || y < zone || x >= side - zone || y >= side - zone
        };
        assert!((0..dots.len()).filter(|&place| in_zone(place)).all(|place| !dots[place]), "{text}");
        // The first finder pattern begins right behind it.
        assert!(dots[zone * side + zone], "{text}");
    }
    assert!(code(&"x".repeat(2_953)).unwrap().is_some());
    assert!(code(&"x".repeat(2_954)).unwrap().is_none());
}

/// The library that makes them is held to the one that reads them, in codes of every size.
#[test]
fn a_text_of_any_length_is_read_back() {
    let letters: String = (0..2_953).map(|place| char::from(b'!' + (place * 7 % 94) as u8)).collect();
    for length in (1..=2_953).step_by(82) {
        let text = &letters[..length];
        assert_eq!(read(&code(text).unwrap().unwrap().png), text);
    }
}

#[test]
fn each_blind_of_the_demonstrations_has_its_label_and_each_opening_one_code_with_its_name() {
    for file in ["larch-terrace.xlsx", "harrier-wharf.xlsx"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo").join(file);
        let input = pipeline::read(&[path], None, &Silent).unwrap();
        let report = pipeline::work(&input, &Silent).unwrap();
        let package = package(&report, Limits::SPREADSHEET);
        let found = labels(&package);
        let mut wanted = Vec::new();
        for line in &report.order.lines {
            for number in 1..=line.quantity {
                wanted.push((format!("Line {}: {number} of {}", line.line, line.quantity), line.key.release));
            }
        }
        let said: Vec<(String, Release)> = found
            .iter()
            .map(|label| match label[4].strip_suffix(" - DO NOT MAKE YET") {
                Some(line) => (line.to_owned(), Release::Provisional),
                None => (label[4].clone(), Release::Make),
            })
            .collect();
        assert_eq!(said, wanted, "{file}");

        // Each says whose it is once it is cut off: revision and survey, which no rest of the row may push out.
        let stamp =
            format!("Revision {}, survey {}", input.rules.project.revision, input.fingerprint.unwrap());
        assert!(found.iter().all(|label| label[5].starts_with(&stamp)), "{file}");

        // A code hangs beside each label; it holds the survey, the line and the name that are written there.
        let sheet = &package.sheets["Labels"];
        assert_eq!(sheet.pictures.len(), found.len(), "{file}");
        let mut read_once: BTreeMap<&[u8], String> = BTreeMap::new();
        for hung in &sheet.pictures {
            let name = read_once.entry(&hung.png).or_insert_with(|| read(&hung.png)).clone();
            let mut key = name.splitn(3, '/');
            let mut next = || key.next().unwrap().to_owned();
            assert_eq!(next(), input.fingerprint.unwrap().to_string(), "{file}");
            let below = |rows: u32| &sheet.cells[&(hung.at.0 + rows, hung.at.1 - 1)].text;
            assert!(below(4).starts_with(&format!("Line {}:", next())), "{file}");
            let name = next();
            assert_eq!(hung.words, format!("Code of {name}"), "{file}");
            assert!(
                below(1).contains(&format!("{name}, ")) || below(1).ends_with('…'),
                "{file}: {}",
                below(1)
            );
        }
        let with_blinds = report.blinds.iter().flatten().count();
        assert_eq!(read_once.len(), with_blinds, "{file}");
    }
}

#[test]
fn what_the_limits_leave_out_is_said() {
    let input = block::from_stock();
    let report = block::report(&input);
    let of = |limits| package(&report, limits);
    let remark = |package: &Package| package.sheets["Labels"].cells[&(2, 0)].text.clone();
    let all = of(Limits::SPREADSHEET);
    assert_eq!(remark(&all), "3 labels, in the order of the order lines. Print at 100 %.");
    let few = of(Limits { labels: 2, codes: 1, ..Limits::SPREADSHEET });
    assert!(
        remark(&few)
            .ends_with("Only the first 2 are printed. Only the first 1 of 3 openings have a QR code.")
    );
    assert_eq!((labels(&few).len(), few.sheets["Labels"].pictures.len()), (2, 1));
    let none = of(Limits::SPREADSHEET.without_drawings());
    assert!(remark(&none).ends_with("No QR codes (--no-drawings)."));
    assert!(none.sheets["Labels"].pictures.is_empty() && none.sheets["Cut list"].pictures.is_empty());
    assert_eq!(labels(&none).len(), 3);
}

#[test]
fn labels_go_on_on_the_next_sheet_with_their_breaks_and_print_areas() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/larch-terrace.xlsx");
    let input = pipeline::read(&[path], None, &Silent).unwrap();
    let report = pipeline::work(&input, &Silent).unwrap();
    let whole = package(&report, Limits::SPREADSHEET);
    // Five rows of labels a page, of seven rows each, under three that are not printed.
    assert_eq!(whole.sheets["Labels"].breaks[..2], [3 + 35, 3 + 70]);
    // Two pages a sheet: 20 labels.
    let parted = package(&report, Limits { breaks: 1, ..Limits::SPREADSHEET });
    assert_eq!(labels(&parted), labels(&whole));
    let sheets = parted.going_on("Labels");
    assert_eq!(sheets.len() as u64, report.counts.blinds.div_ceil(20));
    for (name, sheet) in sheets {
        assert!(sheet.breaks.len() <= 1, "{name}");
        let place = parted.order.iter().position(|other| other == name).unwrap();
        let area = parted.names.iter().find(|found| found.0 == "_xlnm.Print_Area" && found.1 == place);
        assert!(area.unwrap().2.contains("$A$4:$E$"), "{name}: {area:?}");
    }
}
