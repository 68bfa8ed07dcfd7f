//! The command from end to end: exit codes, what it says, and what it leaves behind.

use std::fs;
use std::io::Read as _;

use crate::support::{files::Folder, package::Package};

/// Three openings that can be made as they are.
const SOUND: &str = "
    [Project]
    Project         | Quay House
    Units           | in
    Floors finished | yes
    [Openings]
    Opening | Unit | Kind   | Quantity | Width | Height | Sill height | Recess depth | Handle | Substrate
    W1      | 1    | window | 2        | 36    | 48     | 30          | 5            | 0      | wood
    W2      | 2    | window |          | 42    | 48     | 30          | 5            | 0      | wood
";

/// The same with two that are held for one cause, one for another, and one provisional.
const DOUBTFUL: &str = "
    [Project]
    Project         | Quay House
    Units           | in
    Floors finished | yes
    [Openings]
    Opening | Unit | Kind   | Width | Height | Sill height | Recess depth | Handle | Substrate | Measured | Building
    W1      | 1    | window | 36    | 48     | 30          | 5            | 0      | wood    |          | Quay
    W2      | 1    | window |       | 48     | 30          | 5            | 0      | wood    |          | Quay
    W1      | 2    | window |       | 48     | 30          | 5            | 0      | wood    |          | Quay
    W3      | 2    | window | wide  | 48     | 30          | 5            | 0      | wood    |          | Quay
    W4      | 2    | window | 36    | 48     | 30          | 5            | 0      | wood    | drawing  | Quay
";

/// A survey that says nothing of its units.
const UNITLESS: &str = "
    [Openings]
    Opening | Unit | Width | Height
    W1      | 1    | 36    | 48
";

/// How a command ended: its exit code, standard output and standard error.
struct Ended {
    code: i32,
    out: String,
    err: String,
}

fn sillbook(folder: &Folder, arguments: &str) -> Ended {
    let mut command = assert_cmd::cargo::cargo_bin_cmd!("sillbook");
    let output = command.current_dir(folder.path()).args(arguments.split_whitespace()).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    Ended { code: output.status.code().unwrap(), out: text(output.stdout), err: text(output.stderr) }
}

/// Runs a command that must end with this code and say this, and hands back all it said.
#[track_caller]
fn ends(folder: &Folder, arguments: &str, code: i32, says: &str) -> String {
    let ended = sillbook(folder, arguments);
    assert_eq!(ended.code, code, "{arguments}\n{}", ended.err);
    assert!(ended.err.contains(says), "{arguments} does not say {says:?} but\n{}", ended.err);
    ended.err
}

#[test]
fn a_sound_survey_is_worked_out_beside_itself() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", SOUND);
    let said = ends(&folder, "run quay.xlsx --strict", 0, "");
    let last = said.lines().last().unwrap();
    assert!(last.starts_with("0 stops and "), "{last}");
    assert!(last.ends_with(" in 3 openings; complete: 3 blinds in 2 sizes"), "{last}");
    assert!(said.contains("wrote quay-fitout.xlsx\n"));
    assert_eq!(folder.names(), ["quay-fitout.xlsx", "quay.xlsx"]);
}

#[test]
fn the_makers_copy_stands_beside_the_fit_out() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", SOUND);
    let said = ends(&folder, "run quay.xlsx --order order.xlsx", 0, "wrote order.xlsx\n");
    assert!(said.contains("wrote quay-fitout.xlsx\n"), "{said}");
    assert_eq!(folder.names(), ["order.xlsx", "quay-fitout.xlsx", "quay.xlsx"]);
    // Nothing is written of a wrong command line, nor where nothing can be ordered.
    let force = "run quay.xlsx --force --order order.xlsx";
    for (rest, code, says) in [
        ("--phase C", 2, "there is no phase C"),
        ("--state orderd", 2, "it must be one of ordered, made, delivered, fitted, remake, cancelled"),
        ("--state made", 3, "there is nothing to put in the order"),
    ] {
        let before = fs::read(folder.path().join("order.xlsx")).unwrap();
        ends(&folder, &format!("{force} {rest}"), code, says);
        assert_eq!(fs::read(folder.path().join("order.xlsx")).unwrap(), before, "{rest}");
    }
    ends(&folder, "run quay.xlsx --force --phase C", 2, "--order");
    folder.survey("no-ids.xlsx", &SOUND.replace("W1 ", "   "));
    ends(&folder, "run no-ids.xlsx --order o.xlsx", 3, "have no id");
    assert_eq!(folder.names(), ["no-ids.xlsx", "order.xlsx", "quay-fitout.xlsx", "quay.xlsx"]);
}

#[test]
fn a_run_goes_on_from_an_earlier_fit_out() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", SOUND);
    ends(&folder, "run quay.xlsx", 0, "");
    ends(&folder, "run quay.xlsx --after quay-fitout.xlsx", 0, "wrote quay-fitout 2.xlsx\n");
    ends(&folder, "check quay.xlsx --after quay-fitout.xlsx", 0, "");
    assert!(sillbook(&folder, "explain quay.xlsx W2 --after quay-fitout.xlsx").out.contains("W2"));
    ends(&folder, "run quay.xlsx --after nowhere.xlsx", 3, "nowhere.xlsx");
    ends(&folder, "run quay.xlsx --after quay.xlsx", 3, "it is no fit-out that can be taken up");
    // Half of a file is none.
    let half = fs::read(folder.path().join("quay-fitout.xlsx")).unwrap();
    fs::write(folder.path().join("half.xlsx"), &half[..half.len() / 2]).unwrap();
    ends(&folder, "run quay.xlsx --after half.xlsx", 3, "half.xlsx");
    assert_eq!(folder.names(), ["half.xlsx", "quay-fitout 2.xlsx", "quay-fitout.xlsx", "quay.xlsx"]);
}

#[test]
fn queries_say_what_is_wrong_where_and_what_to_do() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", DOUBTFUL);
    let said = ends(&folder, "check quay.xlsx", 1, "");
    let stops = "\
stop: no width is given
  at Openings!A3 (building Quay, unit 1, opening W2)
  at Openings!A4 (building Quay, unit 2, opening W1)
  hint: ";
    assert!(said.contains(stops), "{said}");
    assert!(said.contains("  at Openings!D5 (building Quay, unit 2, opening W3)"), "{said}");
    let last = said.lines().last().unwrap();
    assert!(last.starts_with("2 stops and "), "{last}");
    assert!(last.ends_with(" in 5 openings; INCOMPLETE: 3 openings are held, 1 provisional"), "{last}");
    assert_eq!(folder.names(), ["quay.xlsx"]);
}

#[test]
fn a_cause_in_many_rows_is_one_query_with_a_count() {
    let folder = Folder::new();
    let rows: String = (1..=42).map(|row| format!("W{row} | 1 | window | | 48\n")).collect();
    folder.survey(
        "s.xlsx",
        &format!("[Project]\nUnits | in\n[Openings]\nOpening|Unit|Kind|Width|Height\n{rows}"),
    );
    let said = ends(&folder, "run s.xlsx", 0, "opening W3)\n  and 39 more, on the sheet Queries\n  hint: ");
    assert_eq!((said.matches("stop: ").count(), said.matches("  at ").count()), (1, 3), "{said}");
    assert!(said.ends_with("INCOMPLETE: 42 openings are held\n"));
    // A check leaves no workbook to look in, so it says all.
    let said = ends(&folder, "check s.xlsx", 1, "opening W42)\n  hint: ");
    assert_eq!((said.matches("stop: ").count(), said.matches("  at ").count()), (1, 42), "{said}");
}

/// Checks of one kind in two wordings, another check, a note and a stop.
const BUSY: &str = "
    [Project]
    Project         | Quay House
    Units           | in
    Floors finished | yes
    [Openings]
    Opening | Unit | Kind   | Width | Height | Sill height | Recess depth | Handle | Substrate | Color | Category
    W1      | 1    | window | 36    | 48     | 30          | 5            | 0      | wood      | wihte | window
    W2      | 1    | window | 36    | 48     | 30          | 5            | 0      | wood      | wihte | window
    W3      | 1    | window | 36    | 48     | 30          | 5            | 0      | wood      | grene | window
    W4      | 1    | window |       | 48     | 30          | 5            | 0      | wood      |       | window
    W5      | 1    | window | 36    | 48     | 30          | 5            | 0      | wood      |       | hatch
    D1      | 1    | wall   | 36    | 48     |             |              |        |           |       | slab
";

#[test]
fn a_run_says_stops_in_full_and_a_line_for_each_kind_of_the_others() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", BUSY);
    let said = ends(&folder, "run quay.xlsx", 0, "");
    let lines: Vec<&str> = said.lines().collect();
    let ends_of_lines = [
        ("read Openings!A1: ", "11 columns"),
        ("note: ", " (Openings!K7)"),
        ("check: \"wihte\" ", ", and 1 more of this kind (3 places)"),
        ("check: ", " (Openings!K6)"),
        ("  hint: ", "the sheet Queries of quay-fitout.xlsx has each place and what to do"),
        ("", ""),
        ("stop: no width is given", ""),
        ("  at ", "Openings!A5 (unit 1, opening W4)"),
        ("  hint: ", ""),
        ("", ""),
        ("wrote ", "quay-fitout.xlsx"),
        ("1 stop and 3 checks in 5 openings; ", "INCOMPLETE: 1 opening is held"),
    ];
    assert_eq!(lines.len(), ends_of_lines.len(), "{said}");
    for (line, (start, end)) in lines.iter().zip(ends_of_lines) {
        assert!(line.starts_with(start) && line.ends_with(end), "{line:?}: {start:?} ... {end:?}");
    }
    // A check, which leaves no workbook, has each with its places and hint, the gravest last.
    let said = ends(&folder, "check quay.xlsx", 1, "");
    let words = said.lines().filter_map(|line| Some(line.split_once(": ")?.0));
    let severities: Vec<&str> = words.filter(|word| !word.contains(' ')).collect();
    assert_eq!(severities, ["note", "check", "check", "check", "stop"], "{said}");
    for part in ["  at Openings!J2 (", "  at Openings!J3 (", "  at Openings!J4 (", "check: \"grene\" "] {
        assert!(said.contains(part), "{part}\n{said}");
    }
    assert_eq!(said.matches("\n  hint: ").count(), 5, "{said}");
}

#[test]
fn the_demonstration_shows_all_that_holds_it_in_a_terminal_of_40_lines() {
    let folder = Folder::new();
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/demo/harrier-wharf.xlsx");
    let said = ends(&folder, &format!("run {demo} -o out.xlsx --no-drawings"), 0, "");
    let lines: Vec<&str> = said.lines().collect();
    assert!(lines.len() <= 70, "{} lines", lines.len());
    let longest = lines.iter().map(|line| line.chars().count()).max().unwrap();
    assert!(longest <= 140, "{longest} letters in a line");
    let stops = |lines: &[&str]| lines.iter().filter(|line| line.starts_with("stop: ")).count();
    let screen = &lines[lines.len() - 40..];
    assert_eq!((stops(&lines), stops(screen)), (12, 12), "{said}");
    assert!(screen[39].starts_with("12 stops and ") && screen[38] == "wrote out.xlsx", "{said}");
}

/// What `check` says is written as well: as text, or as a workbook whose sheet of queries goes back in.
#[test]
fn what_check_finds_is_written_where_it_is_to_go() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", BUSY);
    let said = ends(&folder, "check quay.xlsx --report found.txt", 1, "wrote found.txt\n");
    let text = std::fs::read_to_string(folder.path().join("found.txt")).unwrap();
    assert_eq!(said, format!("{text}wrote found.txt\n"));
    assert!(text.contains("stop: no width is given"), "{text}");

    ends(&folder, "check quay.xlsx --report found.xlsx", 1, "wrote found.xlsx\n");
    let package = Package::of(std::fs::read(folder.path().join("found.xlsx")).unwrap());
    assert_eq!(package.order, ["Queries", "Columns read"]);
    assert!(package.sheets.values().all(|sheet| sheet.links.is_empty()));
    let asked = &package.sheets["Queries"].cells;
    assert!(asked.values().any(|cell| cell.text == "no width is given"));

    ends(&folder, "check quay.xlsx --report found.txt", 3, "found.txt already exists");
    ends(&folder, "check quay.xlsx --report found.txt --force", 1, "wrote found.txt\n");
    ends(&folder, "check quay.xlsx --report quay.xlsx --force", 3, "is a survey of this run");
    ends(&folder, "check quay.xlsx --report found.pdf", 2, "must end in .xlsx or .txt");
}

#[test]
fn drawings_are_left_out_when_asked() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", SOUND);
    ends(&folder, "run quay.xlsx -o drawn.xlsx", 0, "wrote drawn.xlsx");
    ends(&folder, "run quay.xlsx -o bare.xlsx --no-drawings", 0, "wrote bare.xlsx");
    let pictures = |name: &str| {
        let file = fs::File::open(folder.path().join(name)).unwrap();
        let archive = zip::ZipArchive::new(file).unwrap();
        archive.file_names().filter(|name| name.as_ref().unwrap().starts_with("xl/media/")).count()
    };
    assert!(pictures("drawn.xlsx") > 0);
    assert_eq!(pictures("bare.xlsx"), 0);
}

#[test]
fn the_working_of_every_opening_is_there_when_asked_for() {
    let folder = Folder::new();
    let second = SOUND.lines().last().unwrap();
    folder.survey("quay.xlsx", &format!("{SOUND}{}\n", second.replacen("W2", "W3", 1)));
    ends(&folder, "run quay.xlsx -o some.xlsx", 0, "wrote some.xlsx");
    ends(&folder, "run quay.xlsx -o every.xlsx --working", 0, "wrote every.xlsx");
    let has_the_twin = |name: &str| {
        let package = Package::of(fs::read(folder.path().join(name)).unwrap());
        package.sheets["Working"].cells.values().any(|cell| cell.text == "W3")
    };
    assert!(!has_the_twin("some.xlsx"));
    assert!(has_the_twin("every.xlsx"));
}

#[test]
fn an_incomplete_order_is_written_and_strict_says_so_in_its_exit_code() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", DOUBTFUL);
    ends(&folder, "run quay.xlsx -o lax.xlsx", 0, "INCOMPLETE");
    ends(&folder, "run quay.xlsx -o strict.xlsx --strict", 1, "INCOMPLETE");
    assert_eq!(folder.names(), ["lax.xlsx", "quay.xlsx", "strict.xlsx"]);
}

#[test]
fn every_output_is_written_and_is_the_same_on_any_number_of_threads() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", DOUBTFUL);
    for threads in [1, 4] {
        let at = format!("-o {threads}.xlsx --json {threads}.json --csv {threads} --threads {threads}");
        ends(&folder, &format!("run quay.xlsx {at}"), 0, &format!("wrote {threads}.json\nwrote {threads}\n"));
    }
    let read = |name: &str| fs::read(folder.path().join(name)).unwrap();
    assert!(read("1.xlsx") == read("4.xlsx"), "the workbooks differ");
    assert!(read("1.json") == read("4.json"), "the documents differ");
    for list in sillbook::exchange::csv::List::ALL {
        let name = list.file_name();
        assert!(read(&format!("1/{name}")) == read(&format!("4/{name}")), "{name} differs");
    }
}

#[test]
fn what_is_there_is_kept_unless_forced_and_a_survey_always() {
    let folder = Folder::new();
    let survey = folder.survey("quay.xlsx", SOUND);
    let before = fs::read(&survey).unwrap();
    ends(&folder, "run quay.xlsx -o out.xlsx", 0, "wrote out.xlsx");
    fs::write(folder.path().join("out.xlsx"), "mine").unwrap();
    fs::create_dir(folder.path().join("lists")).unwrap();
    fs::write(folder.path().join("lists/cost.csv"), "mine").unwrap();

    ends(&folder, "run quay.xlsx -o out.xlsx", 3, "error: out.xlsx already exists\n  hint: ");
    ends(&folder, "run quay.xlsx -o new.xlsx --csv lists", 3, "error: lists/cost.csv already exists\n");
    for arguments in [
        "run quay.xlsx -o quay.xlsx --force",
        "run quay.xlsx -o ./lists/../quay.xlsx --force",
        "run quay.xlsx --json quay.xlsx --force",
    ] {
        ends(&folder, arguments, 3, "is a survey of this run; a survey is never overwritten");
    }
    ends(
        &folder,
        "run quay.xlsx -o one.xlsx --json one.xlsx",
        3,
        "error: one.xlsx is given as the name of two outputs",
    );
    assert_eq!(folder.names(), ["lists", "out.xlsx", "quay.xlsx"]);
    assert_eq!(fs::read(folder.path().join("out.xlsx")).unwrap(), b"mine");

    ends(&folder, "run quay.xlsx -o out.xlsx --csv lists --force", 0, "wrote lists");
    assert!(fs::read(folder.path().join("out.xlsx")).unwrap().starts_with(b"PK"));
    assert_eq!(fs::read(&survey).unwrap(), before);
}

#[test]
fn where_one_output_cannot_be_none_is_left() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", SOUND);
    fs::write(folder.path().join("file"), "").unwrap();
    for arguments in [
        "run quay.xlsx --json nowhere/out.json",
        "run quay.xlsx --json file/out.json",
        "run quay.xlsx --csv file/lists",
        "run quay.xlsx --csv nowhere/lists",
        "run quay.xlsx --csv file",
        "run quay.xlsx -o nowhere/out.xlsx --json out.json --csv lists",
    ] {
        ends(&folder, arguments, 3, "error: ");
        assert_eq!(folder.names(), ["file", "quay.xlsx"], "{arguments}");
    }
    ends(&folder, "run quay.xlsx --json nowhere/out.json", 3, "there is no folder nowhere\n");
}

#[test]
fn a_survey_that_cannot_be_read_leaves_nothing() {
    let folder = Folder::new();
    folder.survey("unitless.xlsx", UNITLESS);
    folder.survey("empty.xlsx", "[Openings]\n[Project]\nUnits | in");
    folder.survey("blank.xlsx", "[Sheet1]\n");
    folder.survey("other.xlsx", "[Notes]\nBring a ladder");
    folder.survey("quay.xlsx", SOUND);
    folder.survey("metric.xlsx", &SOUND.replace("| in", "| mm"));
    fs::write(folder.path().join("letter.docx"), "Dear all").unwrap();
    fs::write(folder.path().join("broken.xlsx"), "PK, but no more").unwrap();
    fs::create_dir(folder.path().join("folder.xlsx")).unwrap();
    let before = folder.names();
    for (surveys, says) in [
        ("missing.xlsx", "missing.xlsx"),
        ("nowhere/missing.xlsx", "nowhere"),
        ("letter.docx", "letter.docx"),
        ("broken.xlsx", "broken.xlsx"),
        ("folder.xlsx", "folder.xlsx"),
        (
            "unitless.xlsx",
            "unitless.xlsx does not say whether its sizes are in inches or millimeters\n  hint: ",
        ),
        ("other.xlsx --units in", "other.xlsx"),
        ("empty.xlsx", "empty.xlsx has no table of openings: Openings is empty"),
        ("blank.xlsx", "blank.xlsx has no table of openings: Sheet1 is empty"),
        (
            "quay.xlsx metric.xlsx",
            "quay.xlsx Project!B2 is in inches, but metric.xlsx Project!B2 is in millimeters",
        ),
        ("quay.xlsx missing.xlsx", "missing.xlsx"),
    ] {
        let said = ends(&folder, &format!("run {surveys} -o out.xlsx --json out.json --csv lists"), 3, says);
        assert!(said.starts_with("error: "), "{said}");
        assert_eq!(said.matches("error: ").count(), 1, "{said}");
        ends(&folder, &format!("check {surveys}"), 3, says);
        assert_eq!(folder.names(), before, "{surveys}");
    }
    ends(&folder, "run nowhere/missing.xlsx", 3, "missing.xlsx");
    ends(&folder, "check unitless.xlsx --units mm", 1, "");
    ends(&folder, "check unitless.xlsx --units in", 0, "");
}

/// What lies beside surveys: each with the reason that the note gives.
const DEBRIS: [(&str, &str); 5] = [
    ("~$quay.xlsx", "it is the lock file of a workbook that is open"),
    (".~lock.quay.xlsx#", "it is the lock file of a workbook that is open"),
    (".quay.xlsx", "its name begins with a dot, so it is a hidden file"),
    ("Thumbs.db", "it is a system file"),
    ("plan.pdf", "it is not in a supported format"),
];

#[test]
fn a_folder_stands_for_the_surveys_in_it() {
    let folder = Folder::new();
    let block = folder.path().join("block");
    fs::create_dir_all(block.join("older")).unwrap();
    folder.survey("block/b.xlsx", &SOUND.replace("W1", "W3").replace("W2", "W4"));
    folder.survey("block/a.xlsx", SOUND);
    for (name, _) in DEBRIS {
        fs::write(block.join(name), "no survey").unwrap();
    }
    let said = ends(&folder, "run block", 0, "in 6 openings");
    for (name, why) in DEBRIS.into_iter().chain([("older", "it is a folder")]) {
        let note = format!("note: block/{name} is left out: {why}");
        assert!(said.contains(&note), "{note}\n{said}");
    }
    assert!(said.contains("wrote block/a-fitout.xlsx"), "{said}");
    // The next run reads the same surveys, and the fit-out beside them is none.
    let said = ends(&folder, "check block", 0, "in 6 openings");
    assert!(said.contains("note: block/a-fitout.xlsx is left out: it is a fit-out workbook"), "{said}");
}

#[test]
fn files_that_a_shell_gathers_are_sorted_and_one_named_alone_is_meant() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", SOUND);
    fs::write(folder.path().join("plan.pdf"), "no survey").unwrap();
    fs::write(folder.path().join("empty.xlsx"), "").unwrap();
    ends(&folder, "check quay.xlsx plan.pdf", 0, "note: plan.pdf is left out");
    ends(&folder, "check quay.xlsx ./quay.xlsx", 0, "note: ./quay.xlsx is left out: it is named twice");
    ends(&folder, "check plan.pdf", 3, "error: plan.pdf is not in a supported format");
    ends(&folder, "check plan.pdf plan.pdf", 3, "error: there is no survey in plan.pdf, plan.pdf\n");
    // What a survey's name promises is never left out, or its openings would be missing.
    ends(&folder, "check quay.xlsx empty.xlsx", 3, "error: empty.xlsx ");
    ends(&folder, "run quay.xlsx", 0, "wrote quay-fitout.xlsx");
    ends(&folder, "check quay-fitout.xlsx", 3, "quay-fitout.xlsx is a fit-out workbook, not a survey");
}

#[test]
fn a_blank_survey_is_written_once_and_read_back() {
    let folder = Folder::new();
    ends(&folder, "new survey.xlsx --units mm", 0, "wrote survey.xlsx");
    ends(&folder, "new survey.xlsx", 3, "error: survey.xlsx already exists");
    ends(&folder, "new survey.xls", 2, "the file name must end in .xlsx");
    ends(&folder, "check survey.xlsx", 3, "survey.xlsx lists no openings");
    assert_eq!(folder.names(), ["survey.xlsx"]);
}

#[test]
fn an_opening_is_explained_by_any_of_its_names() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", DOUBTFUL);
    for name in ["1/W1", "Quay/1/W1"] {
        let ended = sillbook(&folder, &format!("explain quay.xlsx {name}"));
        assert_eq!((ended.code, &*ended.err), (0, ""), "{name}");
        assert!(ended.out.starts_with("1/W1: sized\n  at Openings!A2\n\n"), "{}", ended.out);
        // 36 in less 1/4 in a side.
        assert!(ended.out.contains("\nwidth\n  36 in "), "{}", ended.out);
        assert!(ended.out.contains("  35 1/2 in "), "{}", ended.out);
        assert!(ended.out.contains("(louver-89.side_clearance)"), "{}", ended.out);
    }
    let held = sillbook(&folder, "explain quay.xlsx W3");
    assert_eq!(held.code, 0);
    assert!(held.out.starts_with("W3: held\n"), "{}", held.out);
    assert!(!held.out.contains("candidates"), "{}", held.out);
    assert!(held.out.contains("\nstop: ") && held.out.contains("\n  hint: "), "{}", held.out);
}

#[test]
fn an_explained_opening_shows_every_candidate_and_why_it_was_not_taken() {
    let folder = Folder::new();
    // An outside blind of 104 x 84 in at 54.00 lies in its window; the handle wants a longer bracket than
    // the box has: 4 at 2.40.
    folder.survey(
        "shop.xlsx",
        "[Project]\nUnits | in\nStock sizes | yes\nOrder date | 2026-03-01\n[Openings]\n\
         Opening | Kind | Width | Height | Recess depth | Handle | Substrate\n\
         D1 | patio door | 102 | 78 | 0 | 1 1/2 | wood\n",
    );
    let ended = sillbook(&folder, "explain shop.xlsx D1");
    assert_eq!((ended.code, &*ended.err), (0, ""));
    // Made, 106 x 83 1/2 in are 5.7104 m2 at 22.00, and 30.00.
    let expected = "\ncandidates\n  \
        taken      stock 104 in x 84 in: 63.60 USD with bracket 4 1/2 in, 0 days, 2026-03-01\n  \
        not taken  stock 66 in x 84 in: 43.20 USD with bracket 4 1/2 in, 0 days, 2026-03-01; the width does not fit\n  \
        not taken  stock 78 in x 84 in: 51.60 USD with bracket 4 1/2 in, 0 days, 2026-03-01; the width does not fit\n  \
        not taken  made 106 in x 83 1/2 in: 155.63 USD, 15 days, 2026-03-16; costs more\n";
    assert!(ended.out.contains(expected), "{}", ended.out);
}

#[test]
fn an_opening_that_cannot_be_found_is_a_wrong_command_line() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", DOUBTFUL);
    let several = "error: 2 openings are called W1\n  hint: give one of 1/W1, 2/W1\n";
    assert_eq!(ends(&folder, "explain quay.xlsx W1", 2, ""), several);
    for (name, hint) in [
        ("w3", "did you mean W3?"),
        ("2/W9", "the openings of unit 2 are 2/W1, W3, W4"),
        ("roof", "give its id, unit/id or building/unit/id, as on the sheet Openings of the fit-out"),
    ] {
        let unknown = format!("error: there is no opening {name}\n  hint: {hint}\n");
        assert_eq!(ends(&folder, &format!("explain quay.xlsx {name}"), 2, ""), unknown);
    }
    ends(&folder, "explain missing.xlsx W1", 3, "missing.xlsx");
}

#[test]
fn a_wrong_command_line_is_refused() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", SOUND);
    for arguments in [
        "",
        "run",
        "check",
        "compare a.xlsx",
        "run quay.xlsx --threads 0",
        "run quay.xlsx --threads 1000",
        "run quay.xlsx --units ft",
        "run quay.xlsx -o out.xls",
        "explain quay.xlsx",
    ] {
        ends(&folder, arguments, 2, "");
        assert_eq!(folder.names(), ["quay.xlsx"], "{arguments}");
    }
}

#[test]
fn text_of_a_survey_cannot_steer_the_terminal() {
    let folder = Folder::new();
    let survey = SOUND.replace("W2 ", "W\u{1b}[2J ").replace("42 ", "  ");
    folder.survey("quay.xlsx", &survey);
    let said = ends(&folder, "check quay.xlsx", 1, "opening W");
    assert!(said.chars().all(|c| c == '\n' || !c.is_control()), "{said:?}");
}

#[cfg(unix)]
#[test]
fn names_of_files_cannot_steer_the_terminal() {
    let folder = Folder::new();
    let marks = "\u{200e}\u{200f}\u{202a}\u{202e}\u{2066}\u{2069}\u{2028}";
    let steering = format!("\u{1b}[2J\u{9b}31m\n\u{7f}{marks}");
    let steers = |c: char| c != '\n' && (c.is_control() || marks.contains(c));
    let name = |rest: &str| format!("q{steering}{rest}");
    folder.survey(&name("uay.xlsx"), SOUND);
    folder.survey(&name("two.xlsx"), &SOUND.replace("W1", "V1").replace("W2", "V2"));
    let (quay, two) = (name("uay.xlsx"), name("two.xlsx"));
    fs::write(folder.path().join(name(".pdf")), "").unwrap();
    let (out, lists, pdf) = (name("out.xlsx"), name("lists"), name(".pdf"));
    let (json, order, report, text) = (name("json"), name("order.xlsx"), name("r.xlsx"), name("r.txt"));
    let missing = name("missing.xlsx");
    let commands: [(&[&str], i32); 11] = [
        (&["check", &quay, &two, &pdf, "--report", &text], 0),
        (&["check", &quay, "--report", &report], 0),
        (&["run", &quay, &two, "-o", &out, "--json", &json, "--csv", &lists, "--order", &order], 0),
        (&["run", &quay, "-o", &out], 3),
        (&["run", &missing], 3),
        (&["run", &quay, "--csv", &quay], 3),
        (&["run", &quay, "--json", &lists], 3),
        (&["explain", &quay, &missing], 2),
        (&["explain", &quay, "W1"], 0),
        (&["new", &quay], 3),
        (&[&missing], 2),
    ];
    for (arguments, code) in commands {
        let mut command = assert_cmd::cargo::cargo_bin_cmd!("sillbook");
        let output = command.current_dir(folder.path()).args(arguments).output().unwrap();
        let said = String::from_utf8([output.stdout, output.stderr].concat()).unwrap();
        assert_eq!(output.status.code(), Some(code), "{arguments:?}\n{said}");
        assert!(!said.contains(steers) && !said.contains("31m\n"), "{arguments:?}\n{said:?}");
    }
    let written = fs::read_to_string(folder.path().join(&text)).unwrap();
    assert!(!written.contains(steers), "{written:?}");
}

#[test]
fn a_name_in_a_pages_header_is_no_code_of_it() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", &SOUND.replace("Quay House", "12 Quay & Co\u{202e}&P"));
    ends(&folder, "run quay.xlsx -o out.xlsx", 0, "wrote out.xlsx");
    let mut book = zip::ZipArchive::new(fs::File::open(folder.path().join("out.xlsx")).unwrap()).unwrap();
    let mut sheet = String::new();
    book.by_name("xl/worksheets/sheet1.xml").unwrap().read_to_string(&mut sheet).unwrap();
    // The size of the letters, 8, does not become 812, and `&P` no number of a page.
    assert!(sheet.contains("&amp;8 12 Quay &amp;&amp; Co &amp;&amp;P&amp;C"), "{sheet}");
}

/// Runs a command that may write files of so many blocks alone, each of 512 or 1,024 bytes.
#[cfg(unix)]
fn within_blocks(folder: &Folder, blocks: u32, arguments: &str) -> Ended {
    let sillbook = assert_cmd::cargo::cargo_bin!("sillbook").display().to_string();
    let script = format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$0\" {arguments}");
    let mut command = std::process::Command::new("sh");
    let output = command.current_dir(folder.path()).args(["-c", &script, &sillbook]).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    Ended { code: output.status.code().unwrap(), out: text(output.stdout), err: text(output.stderr) }
}

#[cfg(unix)]
#[test]
fn wherever_the_room_for_files_ends_nothing_is_left_and_our_words_say_so() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", SOUND);
    for (arguments, outputs) in [
        ("run quay.xlsx -o out.xlsx --json out.json --csv lists --order order.xlsx", 4),
        ("check quay.xlsx --report report.xlsx", 1),
        ("new blank.xlsx", 1),
    ] {
        let before = folder.names();
        let mut refused = 0;
        for blocks in (0..12).map(|power| 1 << power) {
            let ended = within_blocks(&folder, blocks, arguments);
            if ended.code == 0 {
                assert_eq!(folder.names().len(), before.len() + outputs, "{arguments}");
                break;
            }
            let lines: Vec<&str> = ended.err.lines().collect();
            let [error, hint] = lines[..] else { panic!("{arguments}, {blocks} blocks: {}", ended.err) };
            let large = error.ends_with(" cannot be written: a file may not be that large there");
            let temporary = error.contains(" cannot be written, for no temporary file can in ");
            assert!(
                error.starts_with("error: ") && (large || temporary),
                "{arguments}, {blocks} blocks: {error}"
            );
            assert!(hint.starts_with("  hint: "), "{hint}");
            assert_eq!((ended.code, &folder.names()), (3, &before), "{arguments}, {blocks} blocks");
            refused += 1;
        }
        assert!(refused > 1 && folder.names() != before, "{arguments}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn standard_output_on_a_full_disk_is_said_in_our_words() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", SOUND);
    let full = fs::File::options().write(true).open("/dev/full").unwrap();
    let mut command = std::process::Command::new(assert_cmd::cargo::cargo_bin!("sillbook"));
    let command = command.current_dir(folder.path()).args(["explain", "quay.xlsx", "W1"]).stdout(full);
    let output = command.output().unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(3));
    assert!(said.starts_with("error: standard output cannot be written to\n  hint: "), "{said}");
}

#[test]
fn whatever_is_wrong_is_said_in_a_line_with_what_to_do_in_another() {
    let folder = Folder::new();
    let at = |name: &str| folder.path().join(name);
    let sound = fs::read(folder.survey("quay.xlsx", SOUND)).unwrap();
    fs::create_dir(at("none")).unwrap();
    fs::create_dir(at("lists")).unwrap();
    for (name, bytes) in [
        ("cut.xlsx", &sound[..sound.len() / 2]),
        ("empty.xlsx", b""),
        ("empty.csv", b""),
        ("letter.xlsx", b"Dear all, the windows are large."),
        ("page.xls", b"<html><body>"),
        ("unitless.csv", b"Opening,Unit,Width,Height\nW1,1,36,48\n"),
        ("out.xlsx", b"mine"),
        ("lists.txt", b""),
    ] {
        fs::write(at(name), bytes).unwrap();
    }
    let save = "open it in a spreadsheet program and save it as .xlsx";
    let save_again = "open it in a spreadsheet program and save it again as .xlsx, or get another copy";
    let name_survey = "a survey's name ends in one of .xlsx, .xlsm, .xlsb, .xls, .ods, .csv, .tsv";
    for (arguments, code, error, hint) in [
        ("run", 2, "missing <SURVEY>...", "see sillbook run --help"),
        ("explain quay.xlsx", 2, "missing <OPENING>", "see sillbook explain --help"),
        ("chek quay.xlsx", 2, "unrecognized subcommand 'chek'", "did you mean 'check'?"),
        ("run quay.xlsx --unit mm", 2, "unexpected argument '--unit' found", "did you mean '--units'?"),
        ("run quay.xlsx --all", 2, "unexpected argument '--all' found", "see sillbook run --help"),
        ("run none", 3, "there is no survey in none", name_survey),
        ("run missing.xlsx", 3, "missing.xlsx does not exist", "check the name and the folder"),
        ("run missing", 3, "missing does not exist", "check the name and the folder"),
        ("check cut.xlsx", 3, "cut.xlsx is incomplete or damaged", save_again),
        ("check empty.xlsx", 3, "empty.xlsx is empty", "save the survey again, or get another copy"),
        ("check empty.csv", 3, "empty.csv is empty", "save the survey again, or get another copy"),
        ("check letter.xlsx", 3, "letter.xlsx is not a workbook, whatever its name says", save),
        ("check page.xls", 3, "page.xls is a web page or an XML file, not a workbook", save),
        (
            "run quay.xlsx -o out.xlsx",
            3,
            "out.xlsx already exists",
            "choose another name, or move that file; run --force overwrites it",
        ),
        (
            "run quay.xlsx -o new/out.xlsx",
            3,
            "new/out.xlsx cannot be written: there is no folder new",
            "create the folder first, or choose another",
        ),
        ("run quay.xlsx --json lists", 3, "lists is a folder, not a file", "give the name of a file in it"),
        ("run quay.xlsx --csv lists.txt", 3, "lists.txt is a file, not a folder", "choose another folder"),
        ("explain quay.xlsx W", 2, "there is no opening W", "give its id, unit/id or building/unit/id"),
    ] {
        let said = ends(&folder, arguments, code, "");
        let lines: Vec<&str> = said.lines().collect();
        assert_eq!(lines.len(), 2, "{arguments}\n{said}");
        assert_eq!(lines[0], format!("error: {error}"), "{arguments}");
        assert!(lines[1].starts_with(&format!("  hint: {hint}")), "{arguments}\n{said}");
        assert!(lines.iter().all(|line| line.chars().count() <= 120), "{arguments}\n{said}");
    }
    ends(&folder, "check unitless.csv", 3, "error: unitless.csv does not say whether");
}

#[test]
fn a_wrong_value_is_said_with_what_would_be_right() {
    let folder = Folder::new();
    for (arguments, error) in [
        ("run q.xlsx -o out.xls", "'out.xls' for '--output <OUT.xlsx>': the file name must end in .xlsx"),
        ("run q.xlsx --threads 0", "'0' for '--threads <N>': it must be a number from 1 to 256"),
        ("run q.xlsx --units ft", "'ft' for '--units <in|mm|cm|m>' [possible values: in, mm, cm, m]"),
    ] {
        assert_eq!(ends(&folder, arguments, 2, ""), format!("error: invalid value {error}\n"));
    }
}

#[test]
fn no_words_of_a_library_or_of_the_system_reach_a_person() {
    let folder = Folder::new();
    let sound = fs::read(folder.survey("quay.xlsx", SOUND)).unwrap();
    for part in 1..40 {
        let mut bytes = sound[..sound.len() * part / 40].to_vec();
        fs::write(folder.path().join("cut.xlsx"), &bytes).unwrap();
        let cut = ends(&folder, "check cut.xlsx", 3, "error: cut.xlsx is incomplete or damaged");
        // The same with its end as it was, and noise where it was cut.
        bytes.extend(
            sound[bytes.len()..].iter().enumerate().map(|(at, byte)| if at < 40 { !byte } else { *byte }),
        );
        fs::write(folder.path().join("noise.xlsx"), &bytes).unwrap();
        let noise = sillbook(&folder, "check noise.xlsx").err;
        for word in ["Zip", "EOCD", "os error", "deflate", "syntax", "tag", "UTF", "panicked"] {
            assert!(!cut.contains(word) && !noise.contains(word), "{word}: {cut}{noise}");
        }
    }
    let noise = sillbook(&folder, "explain nowhere.xlsx W1").err;
    assert!(!noise.contains("os error"), "{noise}");
}

#[test]
fn what_to_do_about_files_that_are_left_out_is_said_once_for_each_reason() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", SOUND);
    for name in ["a.pdf", "b.pdf", "~$quay.xlsx"] {
        fs::write(folder.path().join(name), "").unwrap();
    }
    let said = ends(&folder, "check quay.xlsx a.pdf b.pdf ~$quay.xlsx quay.xlsx", 0, "");
    let notes = "\
note: a.pdf is left out: it is not in a supported format
  hint: if it is a survey, save it as .xlsx
note: b.pdf is left out: it is not in a supported format
note: ~$quay.xlsx is left out: it is the lock file of a workbook that is open
  hint: save and close that workbook first, so that its latest version is read
note: quay.xlsx is left out: it is named twice
";
    assert!(said.starts_with(notes), "{said}");
}

#[test]
fn rule_sheets_that_cannot_be_used_stop_a_run_with_each_of_their_cells() {
    let folder = Folder::new();
    let rules = "[Products]\nProduct | Side clearance | Rounding step\nlouver-89 | wide | narrow";
    folder.survey("quay.xlsx", &format!("{SOUND}\n{rules}"));
    let said = ends(&folder, "run quay.xlsx", 3, "\n  at Products!B2: ");
    assert!(said.starts_with("stop: ") && said.contains("\n  at Products!C2: "), "{said}");
    let end = "\n\nerror: the rule sheets cannot be used\n  hint: correct each cell named above, or clear it to use the default\n";
    assert!(said.ends_with(end), "{said}");
    assert_eq!(folder.names(), ["quay.xlsx"]);
}

#[test]
fn an_opening_of_a_folder_of_surveys_is_explained() {
    let folder = Folder::new();
    fs::create_dir(folder.path().join("block")).unwrap();
    folder.survey("block/a.xlsx", SOUND);
    folder.survey("block/b.xlsx", &SOUND.replace("W1", "W3").replace("W2", "W4"));
    let ended = sillbook(&folder, "explain block W4");
    assert!(
        ended.code == 0 && ended.out.starts_with("W4: sized\n  at b.xlsx Openings!A3\n"),
        "{}",
        ended.out
    );
}

/// The commands that the help lists.
const COMMANDS: [&str; 4] = ["new", "check", "run", "explain"];

#[test]
fn the_help_says_what_a_person_needs() {
    let folder = Folder::new();
    let help = |arguments: &str| {
        let ended = sillbook(&folder, arguments);
        assert_eq!((ended.code, &*ended.err), (0, ""), "{arguments}");
        ended.out
    };
    let whole = help("--help");
    for command in COMMANDS {
        assert!(whole.contains(&format!("\n  {command} ")), "{whole}");
        // In the short help, whatever can be given has one line.
        let short = help(&format!("{command} -h"));
        let (_, options) = short.split_once("\nOptions:\n").unwrap();
        assert!(
            options.lines().all(|line| line.trim_start().starts_with('-') && line.len() <= 100),
            "{short}"
        );
    }
    assert!(!whole.contains("completions") && !whole.contains("manual"), "{whole}");
    for (command, format) in
        ["check", "run"].into_iter().flat_map(|c| sillbook::grid::FORMATS.map(|f| (c, f)))
    {
        assert!(help(&format!("{command} --help")).contains(format), "{command} {format}");
    }
    assert!(help("run --help").contains("<survey>-fitout.xlsx"));
    for command in ["", "check ", "run ", "explain "] {
        let help = help(&format!("{command}--help"));
        let (_, codes) = help.split_once("\nExit codes:\n").unwrap();
        let codes: Vec<&str> = codes.lines().filter_map(|line| line.trim_start().split(' ').next()).collect();
        assert_eq!(codes, ["0", "1", "2", "3"], "{help}");
    }
}

#[test]
fn the_manual_has_every_command_and_exit_code_and_shells_complete_them() {
    let folder = Folder::new();
    let manual = sillbook(&folder, "manual");
    assert_eq!((manual.code, &*manual.err), (0, ""));
    for command in COMMANDS {
        assert!(manual.out.contains(&format!("\n.SH {}\n", command.to_uppercase())), "{}", manual.out);
    }
    let (_, codes) = manual.out.split_once("\n.SH \"EXIT STATUS\"\n").unwrap();
    for code in ["  0  ", "  1  ", "  2  ", "  3  "] {
        assert!(codes.contains(&format!("\n{code}")), "{codes}");
    }
    assert!(
        manual.out.contains("\\-\\-no\\-drawings") && !manual.out.contains("completions"),
        "{}",
        manual.out
    );

    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let script = sillbook(&folder, &format!("completions {shell}"));
        assert_eq!((script.code, &*script.err), (0, ""), "{shell}");
        for word in COMMANDS.into_iter().chain(["no-drawings"]) {
            assert!(script.out.contains(word), "{shell} {word}");
        }
    }
    ends(&folder, "completions cmd", 2, "[possible values: bash, elvish, fish, powershell, zsh]");
}

#[test]
fn check_prints_the_rows_of_a_sheet_headings_ready_to_paste() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", "[Project]\nUnits | in\n[list]\nMark | Width | Height | Sill elevation | Slat shade\nW1 | 36 | 48 | 24 | cream");
    let asked = sillbook(&folder, "check quay.xlsx");
    assert_eq!(
        (asked.code, asked.out.as_str()),
        (1, "Sheet\tHeading\tMeans\nlist\tSill elevation\tSill height\nlist\tSlat shade\tColor\n")
    );
    assert!(
        asked.err.contains(
            "read list!A1: 3 columns; not read: Sill elevation (Sill height?), Slat shade (Color?)"
        ),
        "{}",
        asked.err
    );
    // Where no table is found at all they matter the most.
    folder.survey("reveal.xlsx", "[Project]\nUnits | in\n[list]\nMark | Reveal W | Reveal H\nW1 | 36 | 48");
    let refused = sillbook(&folder, "check reveal.xlsx");
    assert_eq!(refused.code, 3);
    for row in ["list\tReveal W\t", "list\tReveal H\t"] {
        assert!(refused.out.contains(row), "{}", refused.out);
    }
    // Nothing to say is nothing printed.
    folder.survey("sound.xlsx", SOUND);
    assert_eq!(sillbook(&folder, "check sound.xlsx").out, "");
}
