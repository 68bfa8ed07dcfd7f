//! The command from end to end: exit codes, what it says, and what it leaves behind.

use std::fs;

use crate::support::files::Folder;

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
    let said =
        ends(&folder, "check s.xlsx", 1, "  and 37 more (the sheet Queries of a run lists them all)\n");
    assert_eq!(said.matches("stop: ").count(), 1);
    assert!(said.ends_with("INCOMPLETE: 42 openings are held\n"));
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

    ends(&folder, "run quay.xlsx -o out.xlsx", 3, "error: out.xlsx is there already\n  hint: ");
    ends(&folder, "run quay.xlsx -o new.xlsx --csv lists", 3, "error: lists/cost.csv is there already\n");
    for arguments in [
        "run quay.xlsx -o quay.xlsx --force",
        "run quay.xlsx -o ./lists/../quay.xlsx --force",
        "run quay.xlsx --json quay.xlsx --force",
    ] {
        ends(&folder, arguments, 3, "is a survey of this run, and a survey is never changed");
    }
    ends(&folder, "run quay.xlsx -o one.xlsx --json one.xlsx", 3, "error: one.xlsx is named for two outputs");
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
        ("empty.xlsx", "empty.xlsx holds no table of openings: Openings is empty"),
        ("blank.xlsx", "blank.xlsx holds no table of openings: Sheet1 is empty"),
        ("quay.xlsx metric.xlsx", "quay.xlsx Project!B2 names in and metric.xlsx Project!B2 names mm"),
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
    ("~$quay.xlsx", "a program keeps it beside a workbook that is open"),
    (".~lock.quay.xlsx#", "a program keeps it beside a workbook that is open"),
    (".quay.xlsx", "its name begins with a point"),
    ("Thumbs.db", "the system keeps it in its folders"),
    ("plan.pdf", "it is not in a format that is read"),
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
    assert!(
        said.contains("note: block/a-fitout.xlsx is left out: it is a fit-out that a run wrote"),
        "{said}"
    );
}

#[test]
fn files_that_a_shell_gathers_are_sorted_and_one_named_alone_is_meant() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", SOUND);
    fs::write(folder.path().join("plan.pdf"), "no survey").unwrap();
    fs::write(folder.path().join("empty.xlsx"), "").unwrap();
    ends(&folder, "check quay.xlsx plan.pdf", 0, "note: plan.pdf is left out");
    ends(&folder, "check quay.xlsx ./quay.xlsx", 0, "note: ./quay.xlsx is left out: it is named twice");
    ends(&folder, "check plan.pdf", 3, "error: plan.pdf is not in a format that is read");
    ends(&folder, "check plan.pdf plan.pdf", 3, "error: plan.pdf, plan.pdf holds no survey");
    // What a survey's name promises is never left out, or its openings would be missing.
    ends(&folder, "check quay.xlsx empty.xlsx", 3, "error: empty.xlsx ");
    ends(&folder, "run quay.xlsx", 0, "wrote quay-fitout.xlsx");
    ends(
        &folder,
        "check quay-fitout.xlsx",
        3,
        "quay-fitout.xlsx is a fit-out that a run wrote, not a survey",
    );
}

#[test]
fn a_blank_survey_is_written_once_and_read_back() {
    let folder = Folder::new();
    ends(&folder, "new survey.xlsx --units mm", 0, "wrote survey.xlsx");
    ends(&folder, "new survey.xlsx", 3, "error: survey.xlsx is there already");
    ends(&folder, "new survey.xls", 2, "a workbook's name ends in .xlsx");
    ends(&folder, "check survey.xlsx", 3, "survey.xlsx holds no opening");
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
    assert!(held.out.contains("\nstop: ") && held.out.contains("\n  hint: "), "{}", held.out);
}

#[test]
fn an_opening_that_cannot_be_found_is_a_wrong_command_line() {
    let folder = Folder::new();
    folder.survey("quay.xlsx", DOUBTFUL);
    let several = "error: W1 is the name of 2 openings\n  hint: write one of 1/W1, 2/W1\n";
    assert_eq!(ends(&folder, "explain quay.xlsx W1", 2, ""), several);
    for (name, hint) in [
        ("w3", "did you mean W3?"),
        ("2/W9", "the openings of 2 are 2/W1, W3, W4"),
        ("roof", "write it as the sheet Openings shows it: id, unit/id or building/unit/id"),
    ] {
        let unknown = format!("error: no opening is called {name}\n  hint: {hint}\n");
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
        "compare a.xlsx b.xlsx",
        "run quay.xlsx --threads 0",
        "run quay.xlsx --threads 1000",
        "run quay.xlsx --units cm",
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
