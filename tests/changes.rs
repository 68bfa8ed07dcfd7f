//! What a later run says of an earlier one: stories of two surveys, and of what people typed on `Blinds`
//! in between. Sizes are given as finished, so that a blind is as large as its row says: the price of one
//! of less than 1.5 m2 is 30.00 + 1.5 x 22.00 = 63.00.

use std::fs::File;

use crate::support::files::Folder;
use sillbook::earlier::{self, EarlierError};
use sillbook::exchange::json as document;
use sillbook::grid::{self, Grid, Value};
use sillbook::pipeline::{self, Input, RunError, Silent};
use sillbook::place::Sheets;
use sillbook::report::{About, Change, ChangeCause, Memory, changes_between};
use sillbook::schema::openings::OPENINGS;
use sillbook::workbook::{self, Limits};

/// Four openings that differ in size, so that each has a line of its own, 1 to 4.
const FOUR: &str = "
    [Project]
    Project         | Harbor Row
    Units           | mm
    Sizes given are | finished
    [Openings]
    Opening | Unit | Room | Width | Height | Mount   | Substrate | Quantity
    W1      | A    | bed  | 900   | 1200   | outside | wood      | 1
    W2      | A    | bath | 910   | 1200   | outside | wood      | 1
    W3      | B    | bed  | 920   | 1200   | outside | wood      | 1
    W4      | B    | bath | 930   | 1200   | outside | wood      | 1
";

/// What the earlier run worked on, what people typed, what the later one works on, and the rows of
/// `Changes`: what, opening, fact, before, now, lines, state, cause, costs. What is to order is left out
/// where `with_orders` does not ask for it, and spare louvers always are.
struct Story {
    name: &'static str,
    /// What is replaced in [`FOUR`], and by what, before the earlier run.
    then: &'static [(&'static str, &'static str)],
    /// Line, blind, column and text of what is typed on `Blinds`.
    typed: &'static [(u32, &'static str, &'static str, &'static str)],
    /// What is replaced before the later run, beside the above.
    now: &'static [(&'static str, &'static str)],
    with_orders: bool,
    rows: &'static [&'static str],
}

const NOTHING: Story = Story { name: "", then: &[], typed: &[], now: &[], with_orders: false, rows: &[] };

const W1: &str = "W1      | A    | bed  | 900   | 1200   | outside | wood      | 1";
const W4: &str = "W4      | B    | bath | 930   | 1200   | outside | wood      | 1";

const STORIES: [Story; 32] = [
    Story {
        name: "the same survey again has nothing but what is to order, a row for each line",
        with_orders: true,
        rows: &[
            "to order | W1 | - | - | 1 blind, 900 mm x 1200 mm, louver-89 white, outside | 1>1 | - | - | ->63.00",
            "to order | W2 | - | - | 1 blind, 910 mm x 1200 mm, louver-89 white, outside | 2>2 | - | - | ->63.00",
            "to order | W3 | - | - | 1 blind, 920 mm x 1200 mm, louver-89 white, outside | 3>3 | - | - | ->63.00",
            "to order | W4 | - | - | 1 blind, 930 mm x 1200 mm, louver-89 white, outside | 4>4 | - | - | ->63.00",
        ],
        ..NOTHING
    },
    Story {
        name: "what is ordered is to order no longer",
        then: &[(W1, "W1 | A | bed | 900 | 1200 | outside | wood | 3")],
        typed: &[
            (1, "1 of 3", "State", "ordered"),
            (1, "2 of 3", "State", "made"),
            (2, "1 of 1", "State", "fitted"),
            (3, "1 of 1", "State", "delivered"),
            (4, "1 of 1", "State", "ordered"),
        ],
        with_orders: true,
        rows: &[
            "to order | W1 | - | - | 1 blind, 900 mm x 1200 mm, louver-89 white, outside | 1>1 | - | - | ->63.00",
        ],
        ..NOTHING
    },
    Story {
        name: "an opening more",
        now: &[(
            W4,
            "W4 | B | bath | 930 | 1200 | outside | wood | 1\nW5 | C | hall | 940 | 1200 | outside | wood | 1",
        )],
        rows: &[
            "opening new | W5 | - | - | 940 mm x 1200 mm, louver-89 white, outside | ->6 | - | survey | ->63.00",
            "line new | W5 | - | - | 1 blind, 940 mm x 1200 mm, louver-89 white, outside | ->6 | - | survey | ->63.00",
        ],
        ..NOTHING
    },
    Story {
        name: "an opening more that is held",
        now: &[(
            W4,
            "W4 | B | bath | 930 | 1200 | outside | wood | 1\nW5 | C | hall | x | 1200 | outside | wood | 1",
        )],
        rows: &["opening new | W5 | - | - | held | ->- | - | survey | ->-"],
        ..NOTHING
    },
    Story {
        name: "an opening fewer, of which nothing was ordered",
        now: &[(W4, "")],
        rows: &[
            "opening gone | W4 | - | 930 mm x 1200 mm, louver-89 white, outside | - | 4>- | - | survey | 63.00>-",
            "line gone | W4 | - | 1 blind, 930 mm x 1200 mm, louver-89 white, outside | - | 4>- | - | survey | 63.00>-",
        ],
        ..NOTHING
    },
    Story {
        name: "the first opening is gone",
        now: &[(W1, "")],
        rows: &[
            "opening gone | W1 | - | 900 mm x 1200 mm, louver-89 white, outside | - | 1>- | - | survey | 63.00>-",
            "line gone | W1 | - | 1 blind, 900 mm x 1200 mm, louver-89 white, outside | - | 1>- | - | survey | 63.00>-",
        ],
        ..NOTHING
    },
    Story {
        name: "an opening fewer whose blind is ordered",
        typed: &[(4, "1 of 1", "State", "ordered")],
        now: &[(W4, "")],
        rows: &[
            "opening gone | W4 | - | 930 mm x 1200 mm, louver-89 white, outside | - | 4>- | ordered | survey | 63.00>-",
            "to cancel | W4 | - | 1 of 1, 930 mm x 1200 mm, louver-89 white, outside | - | 4>4 | ordered | - | 63.00>-",
        ],
        ..NOTHING
    },
    Story {
        name: "a blind that somebody cancelled is not to cancel",
        typed: &[(4, "1 of 1", "State", "cancelled")],
        now: &[(W4, "")],
        rows: &[
            "opening gone | W4 | - | 930 mm x 1200 mm, louver-89 white, outside | - | 4>- | cancelled | survey | 63.00>-",
        ],
        ..NOTHING
    },
    Story {
        name: "a blind that is to be made again and has no opening any more is named",
        typed: &[(4, "1 of 1", "State", "remake")],
        now: &[(W4, "")],
        rows: &[
            "opening gone | W4 | - | 930 mm x 1200 mm, louver-89 white, outside | - | 4>- | remake | survey | 63.00>-",
        ],
        ..NOTHING
    },
    Story {
        name: "a blind that was cancelled is ordered anew because somebody said so",
        typed: &[(1, "1 of 1", "State", "cancelled")],
        rows: &[
            "line new | W1 | - | - | 1 blind, 900 mm x 1200 mm, louver-89 white, outside | ->6 | - | answer | ->63.00",
        ],
        ..NOTHING
    },
    Story {
        name: "a blind that was cancelled, of an opening that is held now",
        typed: &[(1, "1 of 1", "State", "cancelled")],
        now: &[(W1, "W1 | A | bed | x | 1200 | outside | wood | 1")],
        rows: &[
            "fact | W1 | Width | 900 mm | x | ->- | - | survey | ->-",
            "size | W1 | Width, Drop | 900 mm x 1200 mm | held | 1>- | cancelled | survey | 63.00>-",
        ],
        ..NOTHING
    },
    Story {
        name: "a blind that was moved: the opening that got it, the one that lost it, and their lines",
        typed: &[(1, "1 of 1", "State", "made"), (1, "1 of 1", "Do", "move"), (1, "1 of 1", "Goes to", "W2")],
        rows: &[
            "fact | W1 | blind | line 1, 1 of 1 | line 6, 1 of 1 | 1>6 | - | answer | ->-",
            "size | W2 | Width | 910 mm x 1200 mm | 900 mm x 1200 mm | 2>1 | made | answer | 63.00>63.00",
            "fact | W2 | blind | line 2, 1 of 1 | line 1, 1 of 1 | 2>1 | made | answer | ->-",
            "line gone | W2 | - | 1 blind, 910 mm x 1200 mm, louver-89 white, outside | - | 2>- | - | answer | 63.00>-",
            "line new | W1 | - | - | 1 blind, 900 mm x 1200 mm, louver-89 white, outside | ->6 | - | answer | ->63.00",
        ],
        ..NOTHING
    },
    Story {
        name: "a blind that was moved to an opening of a longer line, which shrinks",
        then: &[("W2      | A    | bath | 910 ", "W2      | A    | bath | 900 ")],
        typed: &[(2, "1 of 1", "State", "made"), (2, "1 of 1", "Do", "move"), (2, "1 of 1", "Goes to", "W2")],
        rows: &[
            "size | W2 | Width | 900 mm x 1200 mm | 920 mm x 1200 mm | 1>2 | made | answer | 63.00>63.00",
            "fact | W2 | blind | line 1, 2 of 2 | line 2, 1 of 1 | 1>2 | made | answer | ->-",
            "fact | W3 | blind | line 2, 1 of 1 | line 5, 1 of 1 | 2>5 | - | answer | ->-",
            "fact | W1 | blind | 2 blinds, 900 mm x 1200 mm, louver-89 white, outside | 1 blind, 900 mm x 1200 mm, louver-89 white, outside | 1>1 | - | answer | 63.00>63.00",
            "line new | W3 | - | - | 1 blind, 920 mm x 1200 mm, louver-89 white, outside | ->5 | - | answer | ->63.00",
        ],
        ..NOTHING
    },
    Story {
        name: "a blind that was moved to the store, and the one in its place",
        typed: &[
            (4, "1 of 1", "State", "delivered"),
            (4, "1 of 1", "Do", "move"),
            (4, "1 of 1", "Goes to", "store"),
        ],
        rows: &[
            "fact | W4 | blind | line 4, 1 of 1 | line 6, 1 of 1 | 4>6 | - | answer | ->-",
            "line new | W4 | - | - | 1 blind, 930 mm x 1200 mm, louver-89 white, outside | ->6 | - | answer | ->63.00",
        ],
        ..NOTHING
    },
    Story {
        name: "a blind that was moved to the store from between two that stay",
        then: &[(W4, "W4 | B | bath | 930 | 1200 | outside | wood | 4")],
        typed: &[
            (4, "3 of 4", "State", "delivered"),
            (4, "3 of 4", "Do", "move"),
            (4, "3 of 4", "Goes to", "store"),
        ],
        rows: &[
            "fact | W4 | blind | line 4, 1-4 of 4 | line 4, 1-2 of 4; line 4, 4 of 4; line 6, 1 of 1 | 4>4 | - | answer | ->-",
            "line new | W4 | - | - | 1 blind, 930 mm x 1200 mm, louver-89 white, outside | ->6 | - | answer | ->63.00",
        ],
        ..NOTHING
    },
    Story {
        name: "a blind that was moved and one that is broken: the new ones are begun by what was typed",
        typed: &[
            (1, "1 of 1", "State", "made"),
            (1, "1 of 1", "Do", "move"),
            (1, "1 of 1", "Goes to", "store"),
            (3, "1 of 1", "State", "remake"),
            (3, "1 of 1", "Paid by", "maker"),
        ],
        rows: &[
            "fact | W1 | blind | line 1, 1 of 1 | line 6, 1 of 1 | 1>6 | - | answer | ->-",
            "make again | W3 | - | 1 of 1, 920 mm x 1200 mm, louver-89 white, outside | 920 mm x 1200 mm, louver-89 white, outside | 3>7 | remake | - | 63.00>0.00",
            "line new | W1 | - | - | 1 blind, 900 mm x 1200 mm, louver-89 white, outside | ->6 | - | answer | ->63.00",
            "line new | W3 | - | - | 1 blind, 920 mm x 1200 mm, louver-89 white, outside | ->7 | - | answer | ->0.00",
        ],
        ..NOTHING
    },
    Story {
        name: "a blind of which the State was taken back gets the size of today",
        typed: &[(1, "1 of 1", "Order number", "77"), (1, "1 of 1", "Width (mm)", "905")],
        rows: &[
            "size | W1 | Width | 905 mm x 1200 mm | 900 mm x 1200 mm | 1>6 | - | answer | 63.00>63.00",
            "line gone | W1 | - | 1 blind, 905 mm x 1200 mm, louver-89 white, outside | - | 1>- | - | answer | 63.00>-",
            "line new | W1 | - | - | 1 blind, 900 mm x 1200 mm, louver-89 white, outside | ->6 | - | answer | ->63.00",
        ],
        ..NOTHING
    },
    Story {
        name: "more ordered than the opening has room for",
        then: &[(W4, "W4 | B | bath | 930 | 1200 | outside | wood | 2")],
        typed: &[(4, "1 of 2", "State", "made"), (4, "2 of 2", "State", "ordered")],
        now: &[("wood | 2", "wood | 1")],
        rows: &[
            "fact | W4 | Quantity | 2 | 1 | ->4 | made | survey | ->-",
            "to cancel | W4 | - | 2 of 2, 930 mm x 1200 mm, louver-89 white, outside | - | 4>4 | ordered | - | 63.00>-",
        ],
        ..NOTHING
    },
    Story {
        name: "an opening under another name may be the same",
        now: &[("W4  ", "W9  ")],
        rows: &["maybe the same opening | W9 | - | W4 | W9 | 4>4 | - | survey | 63.00>63.00"],
        ..NOTHING
    },
    Story {
        name: "an opening under another name whose blind is ordered is asked about, not cancelled",
        typed: &[(3, "1 of 1", "State", "fitted"), (4, "1 of 1", "State", "ordered")],
        now: &[("W4  ", "W9  ")],
        with_orders: true,
        rows: &[
            "maybe the same opening | W9 | - | W4 | W9 | 4>- | ordered | survey | 63.00>-",
            "to order | W1 | - | - | 1 blind, 900 mm x 1200 mm, louver-89 white, outside | 1>1 | - | - | ->63.00",
            "to order | W2 | - | - | 1 blind, 910 mm x 1200 mm, louver-89 white, outside | 2>2 | - | - | ->63.00",
        ],
        ..NOTHING
    },
    Story {
        name: "a door that is new is not the window that is gone",
        now: &[(W4, "D4 | B | bath | 930 | 2100 | outside | wood | 1")],
        rows: &[
            "opening new | D4 | - | - | 930 mm x 2100 mm, louver-89 white, outside | ->6 | - | survey | ->72.97",
            "opening gone | W4 | - | 930 mm x 1200 mm, louver-89 white, outside | - | 4>- | - | survey | 63.00>-",
            "line gone | W4 | - | 1 blind, 930 mm x 1200 mm, louver-89 white, outside | - | 4>- | - | survey | 63.00>-",
            "line new | D4 | - | - | 1 blind, 930 mm x 2100 mm, louver-89 white, outside | ->6 | - | survey | ->72.97",
        ],
        ..NOTHING
    },
    Story {
        name: "an opening that is measured again",
        now: &[(W1, "W1 | A | bed | 915 | 1200 | outside | wood | 1")],
        rows: &[
            "fact | W1 | Width | 900 mm | 915 mm | ->- | - | survey | ->-",
            "size | W1 | Width | 900 mm x 1200 mm | 915 mm x 1200 mm | 1>6 | - | survey | 63.00>63.00",
            "line gone | W1 | - | 1 blind, 900 mm x 1200 mm, louver-89 white, outside | - | 1>- | - | survey | 63.00>-",
            "line new | W1 | - | - | 1 blind, 915 mm x 1200 mm, louver-89 white, outside | ->6 | - | survey | ->63.00",
        ],
        ..NOTHING
    },
    Story {
        name: "the same size in other words is no change",
        now: &[(W1, "W1 | A | bed | 90 cm | 1.2 m | outside | wood | ")],
        rows: &[],
        ..NOTHING
    },
    Story {
        name: "a note and a room",
        then: &[
            ("Quantity", "Quantity | Note"),
            (W1, "W1 | A | bed | 900 | 1200 | outside | wood | 1 | loose tile"),
        ],
        now: &[(
            "bed | 900 | 1200 | outside | wood | 1 | loose tile",
            "den | 900 | 1200 | outside | wood | 1 | ",
        )],
        rows: &[
            "fact | W1 | Room | bed | den | ->- | - | survey | ->-",
            "fact | W1 | Note | loose tile | - | ->- | - | survey | ->-",
        ],
        ..NOTHING
    },
    Story {
        name: "an answer to a stop",
        then: &[(W1, "W1 | A | bed | | 1200 | outside | wood | 1")],
        now: &[("[Openings]", "[Answers]\nOpening | Column | Answer\nW1 | Width | 900\n[Openings]")],
        rows: &[
            "fact | W1 | Width | - | 900 mm | ->- | - | answer | ->-",
            "size | W1 | Width, Drop | held | 900 mm x 1200 mm | ->5 | - | answer | ->63.00",
            "line new | W1 | - | - | 1 blind, 900 mm x 1200 mm, louver-89 white, outside | ->5 | - | answer | ->63.00",
        ],
        ..NOTHING
    },
    Story {
        name: "an opening that is held now",
        now: &[(W1, "W1 | A | bed | x | 1200 | outside | wood | 1")],
        rows: &[
            "fact | W1 | Width | 900 mm | x | ->- | - | survey | ->-",
            "size | W1 | Width, Drop | 900 mm x 1200 mm | held | 1>- | - | survey | 63.00>-",
            "line gone | W1 | - | 1 blind, 900 mm x 1200 mm, louver-89 white, outside | - | 1>- | - | survey | 63.00>-",
        ],
        ..NOTHING
    },
    Story {
        name: "a blind that is broken",
        typed: &[(1, "1 of 1", "State", "remake"), (1, "1 of 1", "Reason", "damaged")],
        rows: &[
            "make again | W1 | damaged | 1 of 1, 900 mm x 1200 mm, louver-89 white, outside | 900 mm x 1200 mm, louver-89 white, outside | 1>6 | remake | - | 63.00>63.00",
            "line new | W1 | - | - | 1 blind, 900 mm x 1200 mm, louver-89 white, outside | ->6 | - | answer | ->63.00",
        ],
        ..NOTHING
    },
    Story {
        name: "a product in another color",
        now: &[
            ("Quantity", "Quantity | Color"),
            (W1, "W1 | A | bed | 900 | 1200 | outside | wood | 1 | gray"),
        ],
        rows: &[
            "fact | W1 | Color | - | gray | ->- | - | survey | ->-",
            "size | W1 | Color | 900 mm x 1200 mm, white | 900 mm x 1200 mm, gray | 1>6 | - | survey | 63.00>63.00",
            "line gone | W1 | - | 1 blind, 900 mm x 1200 mm, louver-89 white, outside | - | 1>- | - | survey | 63.00>-",
            "line new | W1 | - | - | 1 blind, 900 mm x 1200 mm, louver-89 gray, outside | ->6 | - | survey | ->63.00",
        ],
        ..NOTHING
    },
    Story {
        name: "another revision",
        then: &[("Units ", "Revision | A\n    Units ")],
        now: &[("Revision | A", "Revision | B")],
        rows: &["rule | - | Project: Revision | A | B | ->- | - | survey | ->-"],
        ..NOTHING
    },
    Story {
        name: "another price",
        then: &[
            ("[Openings]", "[Prices]\nItem | Price | Per\nmade-to-measure blind | 50 | each\n[Openings]"),
            (W4, ""),
        ],
        typed: &[(2, "1 of 1", "State", "ordered")],
        now: &[("blind | 50", "blind | 60")],
        rows: &[
            "price | W1 | Price each | 50.00 USD | 60.00 USD | 1>1 | - | rules | 50.00>60.00",
            "price | W3 | Price each | 50.00 USD | 60.00 USD | 3>3 | - | rules | 50.00>60.00",
            "rule | - | Prices: made-to-measure blind, Price | 50 | 60 | ->- | - | survey | ->-",
        ],
        ..NOTHING
    },
    Story {
        name: "sizes that are shared",
        then: &[("Sizes given are | finished", "Sizes given are | finished\n    Merge sizes | no")],
        now: &[("Merge sizes | no", "Merge sizes | 20 mm")],
        // Finished sizes do not move: the rule alone is another.
        rows: &["rule | - | Project: Merge sizes | no | 20 mm | ->- | - | survey | ->-"],
        ..NOTHING
    },
    Story {
        name: "a blind that was moved to the store is not to cancel",
        typed: &[
            (4, "1 of 1", "State", "made"),
            (4, "1 of 1", "Do", "move"),
            (4, "1 of 1", "Goes to", "store"),
        ],
        now: &[(W4, "")],
        rows: &[
            "opening gone | W4 | - | 930 mm x 1200 mm, louver-89 white, outside | - | 4>- | made | survey | 63.00>-",
        ],
        ..NOTHING
    },
];

#[test]
fn a_later_run_says_what_is_different() {
    for story in STORIES {
        let told = |changes: &[Change]| -> Vec<String> {
            let is_asked = |change: &&Change| {
                change.about != About::ToOrder || story.with_orders && !change.opening.is_empty()
            };
            // Lines of spare louvers come and go with the louvers.
            let is_of_blinds = |change: &&Change| {
                ![&change.before, &change.now].into_iter().any(|text| text.contains("spare louvers"))
            };
            changes.iter().filter(is_asked).filter(is_of_blinds).map(row).collect()
        };
        let surveys = Job::of(&story);
        let later = surveys.later().unwrap();
        let report = pipeline::work(&later, &Silent).unwrap();
        assert_eq!(told(report.changes()), story.rows, "{}", story.name);

        // Two fit-outs on disk say the same of each other as the run that wrote the later one.
        let path = surveys.folder.path().join("second.xlsx");
        workbook::write(&report, Limits::SPREADSHEET, &mut File::create(&path).unwrap()).unwrap();
        let mut sheets = Sheets::default();
        let [then, now] = [
            surveys.fit_out(&mut sheets),
            grid::read_earlier(&path, &mut sheets, &sillbook::earlier::is_read).unwrap(),
        ]
        .map(|grid| earlier::read_alone(&grid, &sheets).unwrap());
        let compared = changes_between(&Memory::of_earlier(&then), &Memory::of_earlier(&now));
        assert_eq!(told(&compared), story.rows, "compared: {}", story.name);

        // The same survey again has nothing but what is still to be done.
        let third = surveys.after_file(&path).unwrap();
        let again = pipeline::work(&third, &Silent).unwrap();
        let is_to_do =
            |change: &&Change| [About::ToOrder, About::ToCancel, About::MakeAgain].contains(&change.about);
        let others = again.changes().iter().filter(|change| !is_to_do(change)).map(row);
        assert_eq!(others.collect::<Vec<_>>(), Vec::<String>::new(), "again: {}", story.name);
    }
}

/// What the survey brings, or a person, is not put down to the program; and a length that was written again
/// in other units was not measured again.
#[test]
fn only_what_nobody_said_comes_from_the_program() {
    let prices = "[Prices]\nItem | Price | Per\nmade-to-measure blind | 50 | each\n[Openings]";
    let cases: [&[(&str, &str)]; 2] = [
        &[("[Openings]", prices)],
        &[
            ("| mm", "| in"),
            ("| 900 ", "| 35.4331 "),
            ("| 910 ", "| 35.8268 "),
            ("| 920 ", "| 36.2205 "),
            ("| 930 ", "| 36.6142 "),
            ("| 1200 ", "| 47.2441 "),
            ("| 1200 ", "| 47.2441 "),
            ("| 1200 ", "| 47.2441 "),
            ("| 1200 ", "| 47.2441 "),
        ],
    ];
    for now in cases {
        let mut surveys = Job::of(&NOTHING);
        surveys.now = replaced(&surveys.now, now);
        let later = surveys.later().unwrap();
        let report = pipeline::work(&later, &Silent).unwrap();
        let changes = report.changes();
        assert!(changes.iter().any(|change| change.about == About::Rule), "{now:?}");
        for change in changes {
            assert_ne!(change.cause, Some(ChangeCause::Program), "{}", row(change));
            assert_ne!(change.about, About::Fact, "{}", row(change));
        }
    }

    // A price that was typed on Cost summary is an answer, and so is what follows from it.
    let surveys = Job::of(&NOTHING);
    let mut read = crate::support::surveys(&[("survey.xlsx", &surveys.now)]);
    let mut fit_out = surveys.fit_out(&mut read.sheets);
    type_rate(&mut fit_out, "made-to-measure blind, m2", 32);
    let later = pipeline::understand_after(Some(&fit_out), &read.grids, read.sheets, None).unwrap();
    let report = pipeline::work(&later, &Silent).unwrap();
    let told: Vec<&Change> = report
        .changes()
        .iter()
        .filter(|change| [About::Price, About::Rule].contains(&change.about))
        .collect();
    assert_eq!(told.len(), 5, "{told:?}");
    for change in told {
        assert_eq!(change.cause, Some(ChangeCause::Answer), "{}", row(change));
    }
}

/// What is known of an ordered blind whose opening was measured again is said: it fits, it is a stop, or it
/// hangs.
#[test]
fn a_fact_says_whether_the_blind_still_fits() {
    let then = [
        ("Quantity", "Quantity | Sill height"),
        (W4, "W4 | B | bath | 930 | 1200 | outside | wood | 1 | 900"),
    ];
    type Typed = &'static [(u32, &'static str, &'static str, &'static str)];
    const ORDERED: Typed = &[(4, "1 of 1", "State", "ordered")];
    const FITTED: Typed = &[(4, "1 of 1", "State", "fitted")];
    let cases = [
        (ORDERED, "| 930 | 1200 | outside | wood | 1 | 905", "Sill height", "the ordered blind still fits"),
        (FITTED, "| 930 | 1200 | outside | wood | 1 | 905", "Sill height", "that hangs there still fits"),
        (ORDERED, "| 1030 | 1200 | outside | wood | 1 | 900", "Width", "enter what to do under Do"),
        (FITTED, "| 1030 | 1200 | outside | wood | 1 | 900", "Width", "look at it on site"),
        (ORDERED, "| x | 1200 | outside | wood | 1 | 900", "Width", "answer the opening's stop"),
    ];
    for (typed, measured, fact, to_do) in cases {
        let survey = replaced(FOUR, &then);
        let now = survey.replace("| 930 | 1200 | outside | wood | 1 | 900", measured);
        let job = Job { folder: Folder::new(), then: survey, now, typed };
        write(&job.folder, &job.earlier());
        let later = job.later().unwrap();
        let report = pipeline::work(&later, &Silent).unwrap();
        let said = report.changes().iter().find(|change| change.fact == fact && change.about == About::Fact);
        let said = said.unwrap_or_else(|| panic!("no row for {typed:?} {measured}"));
        assert!(said.to_do.contains(to_do), "{typed:?} {measured}: {}", said.to_do);

        // Two fit-outs by themselves do not say it, but where it is to be found.
        let path = job.folder.path().join("second.xlsx");
        workbook::write(&report, Limits::SPREADSHEET, &mut File::create(&path).unwrap()).unwrap();
        let mut sheets = Sheets::default();
        let fit_outs = [
            job.fit_out(&mut sheets),
            grid::read_earlier(&path, &mut sheets, &sillbook::earlier::is_read).unwrap(),
        ];
        let [then, now] = fit_outs.map(|grid| earlier::read_alone(&grid, &sheets).unwrap());
        let compared = changes_between(&Memory::of_earlier(&then), &Memory::of_earlier(&now));
        let said = compared.iter().find(|change| change.fact == fact && change.about == About::Fact).unwrap();
        let which = if typed == FITTED { "the blind that hangs there" } else { "the ordered blind" };
        let where_to = format!("see Queries of the later fit-out: whether {which} still fits");
        assert_eq!(said.to_do, where_to, "{typed:?} {measured}");
    }
}

/// Two fit-outs between which somebody typed that the maker does not pay for what is made again; and a rule
/// that has nothing to do with prices is another.
#[test]
fn another_price_of_what_is_made_again_is_an_answer() {
    let job = Job::of(&Story {
        typed: &[(3, "1 of 1", "State", "remake"), (3, "1 of 1", "Paid by", "maker")],
        ..NOTHING
    });
    let [second, third] = ["second.xlsx", "third.xlsx"].map(|name| job.folder.path().join(name));
    let write_out = |input: &Input, path: &std::path::Path| {
        let report = pipeline::work(input, &Silent).unwrap();
        workbook::write(&report, Limits::SPREADSHEET, &mut File::create(path).unwrap()).unwrap();
    };
    let read_back = |path: &std::path::Path, sheets: &mut Sheets| {
        grid::read_earlier(path, sheets, &sillbook::earlier::is_read).unwrap()
    };
    write_out(&job.later().unwrap(), &second);
    let survey = job.now.replace("[Openings]", "Overhead % | 9\n[Openings]");
    let mut surveys = crate::support::surveys(&[("survey.xlsx", &survey)]);
    let mut fit_out = read_back(&second, &mut surveys.sheets);
    type_in(&mut fit_out, (3, "1 of 1"), "Paid by", "us");
    let input = pipeline::understand_after(Some(&fit_out), &surveys.grids, surveys.sheets, None).unwrap();
    write_out(&input, &third);

    let mut sheets = Sheets::default();
    let [then, now] = [second, third].map(|path| {
        let grid = read_back(&path, &mut sheets);
        earlier::read_alone(&grid, &sheets).unwrap()
    });
    let changes = changes_between(&Memory::of_earlier(&then), &Memory::of_earlier(&now));
    let prices = changes.iter().filter(|change| change.about == About::Price).map(row);
    assert_eq!(
        prices.collect::<Vec<_>>(),
        ["price | W3 | Price each | 0.00 USD | 63.00 USD | 6>6 | - | answer | 0.00>63.00"]
    );
}

/// A sheet, a list and a file have the same rows, and a first run has none.
#[test]
fn every_output_has_the_changes() {
    let story = &STORIES[2];
    let surveys = Job::of(story);
    let later = surveys.later().unwrap();
    let report = pipeline::work(&later, &Silent).unwrap();
    let mut text = Vec::new();
    document::write(&report, &mut text).unwrap();
    let document: serde_json::Value = serde_json::from_slice(&text).unwrap();
    let rows = document["changes"].as_array().unwrap();
    assert_eq!(rows.len(), report.changes().len());
    assert_eq!((&rows[0]["what"], &rows[0]["opening"]), (&"opening new".into(), &"W5".into()));
    let path = surveys.folder.path().join("second.xlsx");
    workbook::write(&report, Limits::SPREADSHEET, &mut File::create(&path).unwrap()).unwrap();
    let second = grid::read(&path, &mut Sheets::default()).unwrap();
    let names: Vec<&str> = second.sheets.iter().map(|sheet| sheet.name.as_str()).collect();
    assert_eq!(names[..2], ["Summary", "Changes"]);
    let after_columns = names.iter().position(|name| *name == "Columns read").unwrap() + 1;
    assert_eq!(names[after_columns], "As surveyed");

    let first = surveys.earlier();
    let first = pipeline::work(&first, &Silent).unwrap();
    assert_eq!(first.changes(), []);
    let mut text = Vec::new();
    document::write(&first, &mut text).unwrap();
    let document: serde_json::Value = serde_json::from_slice(&text).unwrap();
    assert_eq!(document["changes"], serde_json::json!([]));
    let first = surveys.fit_out(&mut Sheets::default());
    assert!(first.sheets.iter().all(|sheet| sheet.name != "Changes"));
}

/// Causes that no cell of an opening has. A blind of 1000 mm hangs inside an opening of 1012.7 mm, whose
/// clearance is 1/4 in a side.
#[test]
fn a_size_that_changes_by_itself_has_its_cause() {
    let survey = |items: &str| {
        format!(
            "[Project]
            Project | Harbor Row
            Units   | mm
            {items}
            [Openings]
            Opening | Unit | Width  | Height | Mount  | Recess depth | Substrate
            W1      | A    | 1012.7 | 1500   | inside | 150          | wood
            W2      | A    | 1300   | 1500   | inside | 150          | wood
            W3      | A    | 1304   | 1500   | inside | 150          | wood"
        )
    };
    let clearance = "[Products]\nProduct | Side clearance\nlouver-89 | 10 mm";
    let cases = [
        ("Merge sizes | no", "Merge sizes | 20 mm", "", "merging"),
        ("Merge sizes | no", "Merge sizes | no", clearance, "rules"),
    ];
    for (then, now, more, cause) in cases {
        let folder = Folder::new();
        let mut first = crate::support::surveys(&[("survey.xlsx", &survey(then))]);
        let path = write(&folder, &pipeline::understand(&first.grids, first.sheets, None).unwrap());
        first = crate::support::surveys(&[("survey.xlsx", &(survey(now) + "\n" + more))]);
        let earlier = grid::read_earlier(&path, &mut first.sheets, &sillbook::earlier::is_read).unwrap();
        let later = pipeline::understand_after(Some(&earlier), &first.grids, first.sheets, None).unwrap();
        let report = pipeline::work(&later, &Silent).unwrap();
        let changes = report.changes();
        let sizes: Vec<&Change> = changes.iter().filter(|change| change.about == About::Size).collect();
        assert!(!sizes.is_empty(), "{now} {more}");
        for size in sizes {
            assert_eq!(size.cause.map(|cause| cause.word()), Some(cause), "{}", row(size));
        }
    }
}

/// Each opening is read back as it was taken, to the nanometer, and two runs of one survey differ in no
/// cell.
#[test]
fn as_surveyed_is_read_back_as_it_was_taken() {
    let texts = [
        "
        [Project]
        Project | Harbor Row
        Units   | in
        [Types]
        Type | Width   | Height | Recess depth | Color
        T    | 44 3/4  | 60     | 4.0625       | white
        [Openings]
        Opening | Unit | Type | Width     | Width top | Height   | Mount   | First stud | Sill height | Note
        W1      | 1    | T    |           |           |          | OM      | -3 1/8     | 36          | '=1+1
        W2      | 1    | T    | 45.126    |           | 5' 1\"   | either  |            | -           | two words
        W3      | 1    |      | 1000.125 mm |         | 1.5005 m | inside  | 700.1234 mm | n/a        |
        W4      | 2    |      | x         | 44        | 60       | outside |            |             | #REF!
        'W5     | ^    |      |           | 44 1/64   | 60       | perhaps |            | 0           |
        ",
        "
        [Project]
        Project | Harbor Row
        Units   | mm
        [Answers]
        Opening | Column | Answer
        W2      | Width  | 901.125
        [Openings]
        Opening | Unit | Width   | Height | Kind   | Steel thickness | Quantity
        W1      | 1    | 900.123 | 1200   |        | 33 mil          | 2
        W2      | 1    |         | 1200   | window |                 |
        ",
    ];
    for text in texts {
        let folder = Folder::new();
        let mut surveys = crate::support::surveys(&[("survey.xlsx", text)]);
        let first = pipeline::understand(&surveys.grids, surveys.sheets.clone(), None).unwrap();
        let path = write(&folder, &first);
        let fit_out = grid::read_earlier(&path, &mut surveys.sheets, &sillbook::earlier::is_read).unwrap();
        let kept = earlier::read_alone(&fit_out, &surveys.sheets).unwrap().surveyed;
        assert_eq!(kept.len(), first.survey.openings.len());
        for (kept, opening) in kept.iter().zip(&first.survey.openings) {
            assert_eq!(kept.name, opening.who.name);
            for column in OPENINGS.offered() {
                let (then, now) = (kept.said(column), opening.taken(column));
                assert_eq!(then, now.trim(), "{} {}", kept.name, column.name);
                assert_eq!(kept.is_answered(column), opening.as_read.is_answered(column), "{}", column.name);
            }
            // What is read back is the size that was worked with.
            let Some(facts) = &opening.facts else { continue };
            for (columns, measured) in [
                (&sillbook::schema::openings::WIDTHS, &facts.width),
                (&sillbook::schema::openings::HEIGHTS, &facts.height),
            ] {
                let least = earlier::least(columns, |column| kept.said(column));
                assert_eq!(least, Some(measured.least().value), "{}", kept.name);
            }
        }
        let later =
            pipeline::understand_after(Some(&fit_out), &surveys.grids, surveys.sheets.clone(), None).unwrap();
        let report = pipeline::work(&later, &Silent).unwrap();
        let changes = report.changes();
        let others: Vec<String> =
            changes.iter().filter(|change| change.about != About::ToOrder).map(row).collect();
        assert_eq!(others, Vec::<String>::new(), "{text}");
    }
}

/// An earlier fit-out with half of the sizes off by more than an inch belongs to another job.
#[test]
fn a_fit_out_of_other_sizes_is_refused() {
    let wider = |by: i32, openings: &[i32]| {
        openings.iter().fold(FOUR.to_owned(), |text, width| {
            text.replace(&format!("| {width} "), &format!("| {} ", width + by))
        })
    };
    let cases = [
        // 25.4 mm are one inch.
        (wider(25, &[900, 910, 920, 930]), None),
        (wider(26, &[900]), None),
        (wider(26, &[900, 910]), Some((2, 4))),
    ];
    for (text, refused) in cases {
        let surveys = Job::of(&NOTHING);
        let found = match surveys.after(&text) {
            Ok(_) => None,
            Err(RunError::Earlier(EarlierError::OtherSizes { off, all, .. })) => Some((off, all)),
            Err(other) => panic!("{other}"),
        };
        assert_eq!(found, refused, "{text}");
    }
}

/// An earlier fit-out on disk, and the surveys around it.
struct Job {
    folder: Folder,
    then: String,
    now: String,
    typed: &'static [(u32, &'static str, &'static str, &'static str)],
}

impl Job {
    fn of(story: &Story) -> Job {
        let then = replaced(FOUR, story.then);
        let job = Job { folder: Folder::new(), now: replaced(&then, story.now), then, typed: story.typed };
        write(&job.folder, &job.earlier());
        job
    }

    fn earlier(&self) -> Input {
        let surveys = crate::support::surveys(&[("survey.xlsx", &self.then)]);
        pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap()
    }

    /// The earlier fit-out, with what was typed into it.
    fn fit_out(&self, sheets: &mut Sheets) -> Grid {
        let mut grid =
            grid::read_earlier(&self.folder.path().join("fit-out.xlsx"), sheets, &sillbook::earlier::is_read)
                .unwrap();
        for (line, blind, column, text) in self.typed {
            type_in(&mut grid, (*line, blind), column, text);
        }
        grid
    }

    fn later(&self) -> Result<Input, RunError> {
        self.after(&self.now)
    }

    /// The later survey again, after another fit-out.
    fn after_file(&self, path: &std::path::Path) -> Result<Input, RunError> {
        let mut surveys = crate::support::surveys(&[("survey.xlsx", &self.now)]);
        let fit_out = grid::read_earlier(path, &mut surveys.sheets, &sillbook::earlier::is_read).unwrap();
        pipeline::understand_after(Some(&fit_out), &surveys.grids, surveys.sheets, None)
    }

    fn after(&self, text: &str) -> Result<Input, RunError> {
        let mut surveys = crate::support::surveys(&[("survey.xlsx", text)]);
        let fit_out = self.fit_out(&mut surveys.sheets);
        pipeline::understand_after(Some(&fit_out), &surveys.grids, surveys.sheets, None)
    }
}

fn replaced(text: &str, replacements: &[(&str, &str)]) -> String {
    replacements.iter().fold(text.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "{from} is not in {text}");
        text.replacen(from, to, 1)
    })
}

/// Works and writes a fit-out.
fn write(folder: &Folder, input: &Input) -> std::path::PathBuf {
    let path = folder.path().join("fit-out.xlsx");
    let report = pipeline::work(input, &Silent).unwrap();
    workbook::write(&report, Limits::SPREADSHEET, &mut File::create(&path).unwrap()).unwrap();
    path
}

/// Types a text beside a blind.
fn type_in(grid: &mut Grid, (line, blind): (u32, &str), column: &str, text: &str) {
    let sheet = grid.sheets.iter_mut().find(|sheet| sheet.name == "Blinds").unwrap();
    let says = |value: &Value, wanted: &str| matches!(value, Value::Text(text) if **text == *wanted);
    let headings = sheet.rows.iter().find(|row| row.cells.iter().any(|(_, value)| says(value, "Line")));
    let headings = headings.unwrap().cells.clone();
    let under = |name: &str| {
        let heading = headings.iter().find(|(_, value)| says(value, name));
        heading.unwrap_or_else(|| panic!("no column {name}")).0
    };
    let (of_line, of_blind, typed) = (under("Line"), under("Blind"), under(column));
    let row = sheet.rows.iter_mut().find(|row| {
        let is_line = matches!(row.value(of_line), Some(Value::Number(number)) if *number == line.into());
        is_line && row.value(of_blind).is_some_and(|value| says(value, blind))
    });
    let cells = &mut row.unwrap_or_else(|| panic!("no blind {line}, {blind}")).cells;
    cells.retain(|(known, _)| *known != typed);
    cells.push((typed, Value::Text(text.into())));
    cells.sort_by_key(|(column, _)| *column);
}

/// Types a rate over the printed one in the row of Cost summary of that name.
fn type_rate(grid: &mut Grid, known_as: &str, rate: u32) {
    let sheet = grid.sheets.iter_mut().find(|sheet| sheet.name == "Cost summary").unwrap();
    let says = |value: &Value, wanted: &str| matches!(value, Value::Text(text) if text.split(" (").next() == Some(wanted));
    let headings = sheet.rows.iter().find(|row| row.cells.iter().any(|(_, value)| says(value, "Known as")));
    let headings = headings.unwrap().cells.clone();
    let under = |name: &str| headings.iter().find(|(_, value)| says(value, name)).unwrap().0;
    let (names, typed) = (under("Known as"), under("Rate"));
    let row = sheet.rows.iter_mut().find(|row| row.value(names).is_some_and(|value| says(value, known_as)));
    let cells = &mut row.unwrap_or_else(|| panic!("no row {known_as}")).cells;
    cells.retain(|(known, _)| *known != typed);
    cells.push((typed, Value::Number(rate.into())));
    cells.sort_by_key(|(column, _)| *column);
}

/// A change on one line.
fn row(change: &Change) -> String {
    let shown = |text: &str| if text.is_empty() { "-".to_owned() } else { text.to_owned() };
    let between = |before: Option<String>, now: Option<String>| {
        format!("{}>{}", before.unwrap_or("-".to_owned()), now.unwrap_or("-".to_owned()))
    };
    let line = |line: Option<usize>| line.map(|line| line.to_string());
    let cost = |cost: Option<rust_decimal::Decimal>| cost.map(|cost| format!("{cost:.2}"));
    [
        change.about.word().to_owned(),
        shown(&change.opening),
        shown(&change.fact),
        shown(&change.before),
        shown(&change.now),
        between(line(change.line_before), line(change.line_now)),
        change.state.map_or_else(|| "-".to_owned(), |state| state.word().to_owned()),
        change.cause.map_or_else(|| "-".to_owned(), |cause| cause.word().to_owned()),
        between(cost(change.cost_before), cost(change.cost_now)),
    ]
    .join(" | ")
}
