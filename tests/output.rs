//! Files of a run appear whole or not at all.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

use sillbook::output::{Existing, OutputError, Outputs, Places};

fn listed(folder: &Path) -> Vec<String> {
    let mut names: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

fn write(outputs: &mut Outputs, target: &Path, text: &str) {
    outputs.write(target, |out| out.write_all(text.as_bytes())).unwrap();
}

#[test]
fn files_take_their_names_together() {
    let folder = tempfile::tempdir().unwrap();
    let (one, two) = (folder.path().join("one.json"), folder.path().join("new/two.csv"));
    let mut places = Places::new(Existing::Keep);
    places.file(&one, &[]).unwrap();
    places.files_in(&folder.path().join("new"), ["two.csv"], &[]).unwrap();
    let mut outputs = places.begin();
    write(&mut outputs, &one, "1");
    write(&mut outputs, &two, "2");
    assert!(!one.exists() && !two.exists());
    outputs.put_in_place().unwrap();
    assert_eq!(listed(folder.path()), ["new", "one.json"]);
    assert_eq!(listed(&folder.path().join("new")), ["two.csv"]);
    assert_eq!(fs::read_to_string(two).unwrap(), "2");
}

#[test]
fn a_failure_while_writing_leaves_nothing_behind() {
    let folder = tempfile::tempdir().unwrap();
    let one = folder.path().join("one.json");
    let mut places = Places::new(Existing::Keep);
    places.file(&one, &[]).unwrap();
    places.files_in(&folder.path().join("new"), ["two.csv"], &[]).unwrap();
    let mut outputs = places.begin();
    write(&mut outputs, &one, "1");
    let failed = outputs.write(&folder.path().join("new/two.csv"), |out| {
        out.write_all(b"half")?;
        Err(io::Error::other("the disk is full"))
    });
    assert!(failed.unwrap_err().to_string().ends_with("two.csv cannot be written: the disk is full"));
    drop(outputs);
    assert_eq!(listed(folder.path()), Vec::<String>::new());
}

#[test]
fn a_new_folder_stands_with_all_its_files_or_not_at_all() {
    let folder = tempfile::tempdir().unwrap();
    let (lists, taken) = (folder.path().join("lists"), folder.path().join("taken"));
    let begin = || {
        let mut places = Places::new(Existing::Keep);
        places.files_in(&lists, ["one.csv", "two.csv"], &[]).unwrap();
        places.file(&taken, &[]).unwrap();
        let mut outputs = places.begin();
        for target in [&lists.join("one.csv"), &lists.join("two.csv"), &taken] {
            write(&mut outputs, target, "ours");
        }
        assert!(!lists.exists());
        outputs
    };
    // Someone takes the place of the last file.
    let outputs = begin();
    fs::write(&taken, "theirs").unwrap();
    assert!(outputs.put_in_place().is_err());
    assert_eq!(listed(folder.path()), ["taken"]);

    // Someone makes the folder, with a file in it.
    fs::remove_file(&taken).unwrap();
    let outputs = begin();
    fs::create_dir(&lists).unwrap();
    fs::write(lists.join("mine"), "").unwrap();
    assert!(
        outputs
            .put_in_place()
            .unwrap_err()
            .to_string()
            .ends_with("lists cannot be written: it already exists")
    );
    assert_eq!(listed(folder.path()), ["lists"]);
    assert_eq!(listed(&lists), ["mine"]);
}

#[test]
fn files_in_a_folder_that_is_there_are_replaced_together() {
    let folder = tempfile::tempdir().unwrap();
    let taken = folder.path().join("taken");
    fs::write(folder.path().join("one.csv"), "as it was").unwrap();
    fs::write(folder.path().join("other.csv"), "not ours").unwrap();
    let mut places = Places::new(Existing::Replace);
    places.files_in(folder.path(), ["one.csv", "two.csv"], &[]).unwrap();
    places.file(&taken, &[]).unwrap();
    let mut outputs = places.begin();
    for name in ["one.csv", "two.csv", "taken"] {
        write(&mut outputs, &folder.path().join(name), "as it will be");
    }
    fs::create_dir(&taken).unwrap();
    assert!(outputs.put_in_place().is_err());
    assert_eq!(listed(folder.path()), ["one.csv", "other.csv", "taken"]);
    assert_eq!(fs::read_to_string(folder.path().join("one.csv")).unwrap(), "as it was");
}

/// Makes a file look as old as this.
fn set_age(file: &Path, hours: u64) {
    let changed = fs::metadata(file).unwrap().modified().unwrap() - Duration::from_secs(hours * 60 * 60);
    File::options().append(true).open(file).unwrap().set_modified(changed).unwrap();
}

#[test]
fn what_a_killed_run_left_goes_with_the_next_run_and_nothing_else_does() {
    let folder = tempfile::tempdir().unwrap();
    let target = folder.path().join("out");
    let begin = || {
        let mut places = Places::new(Existing::Keep);
        places.file(&target, &[]).unwrap();
        places.begin()
    };
    // Two runs that end before they can tidy up.
    for _ in 0..2 {
        let mut outputs = begin();
        write(&mut outputs, &target, "half");
        std::mem::forget(outputs);
    }
    let left = listed(folder.path());
    let [old, young] = [&left[0], &left[1]].map(|name| folder.path().join(name));
    set_age(&old, 25);
    set_age(&young, 23);

    // What resembles it, each as old.
    let name = left[0].as_str();
    let (begins, ends) = (".sillbook-", ".unfinished");
    let random = name.strip_prefix(begins).unwrap().strip_suffix(ends).unwrap();
    let mut stays: Vec<String> = [
        name[1..].to_owned(),
        format!("{name}.xlsx"),
        format!("{begins}{random}"),
        format!("{begins}{}{ends}", &random[1..]),
        format!("{begins}-{}{ends}", &random[1..]),
        format!("{begins}x{random}{ends}"),
        format!("{begins}notes{ends}"),
    ]
    .into();
    for name in &stays {
        fs::write(folder.path().join(name), "mine").unwrap();
        set_age(&folder.path().join(name), 1_000);
    }
    let of_a_run = |letter: &str| format!("{begins}{}{ends}", letter.repeat(random.len()));
    fs::create_dir(folder.path().join(of_a_run("D"))).unwrap();
    fs::write(folder.path().join(of_a_run("D")).join("mine"), "").unwrap();
    stays.push(of_a_run("D"));
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(&stays[0], folder.path().join(of_a_run("L"))).unwrap();
        stays.push(of_a_run("L"));
    }
    stays.push(left[1].clone());
    stays.sort();

    drop(begin());
    assert_eq!(listed(folder.path()), stays);
}

#[test]
fn a_failure_while_putting_in_place_takes_back_what_was_placed() {
    let folder = tempfile::tempdir().unwrap();
    let (old, new, taken) =
        (folder.path().join("a-old"), folder.path().join("b-new"), folder.path().join("c-taken"));
    fs::write(&old, "as it was").unwrap();
    let mut places = Places::new(Existing::Replace);
    for target in [&old, &new, &taken] {
        places.file(target, &[]).unwrap();
    }
    let mut outputs = places.begin();
    for target in [&old, &new, &taken] {
        write(&mut outputs, target, "as it will be");
    }
    // Someone makes a folder where the last file belongs.
    fs::create_dir(&taken).unwrap();
    assert!(outputs.put_in_place().is_err());
    assert_eq!(listed(folder.path()), ["a-old", "c-taken"]);
    assert_eq!(fs::read_to_string(old).unwrap(), "as it was");
}

#[test]
fn a_file_that_appears_meanwhile_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    let target = folder.path().join("out");
    let mut places = Places::new(Existing::Keep);
    places.file(&target, &[]).unwrap();
    let mut outputs = places.begin();
    write(&mut outputs, &target, "ours");
    fs::write(&target, "theirs").unwrap();
    assert!(outputs.put_in_place().is_err());
    assert_eq!(fs::read_to_string(&target).unwrap(), "theirs");
    assert_eq!(listed(folder.path()), ["out"]);
}

#[test]
fn a_place_is_refused_before_the_work_begins() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    fs::write(at("survey.xlsx"), "").unwrap();
    fs::write(at("there.xlsx"), "").unwrap();
    fs::create_dir(at("folder")).unwrap();
    #[cfg(unix)]
    std::os::unix::fs::symlink(at("survey.xlsx"), at("link.xlsx")).unwrap();
    let surveys = [at("survey.xlsx")];
    let refused = |name: &str, existing| {
        let mut places = Places::new(existing);
        places.file(&at("first.json"), &surveys).unwrap();
        places.file(&at(name), &surveys).unwrap_err()
    };

    use Existing::{Keep, Replace};
    assert!(matches!(refused("there.xlsx", Keep), OutputError::Exists { .. }));
    assert!(matches!(refused("survey.xlsx", Replace), OutputError::IsSurvey { .. }));
    assert!(matches!(refused("folder/../survey.xlsx", Replace), OutputError::IsSurvey { .. }));
    #[cfg(unix)]
    assert!(matches!(refused("link.xlsx", Replace), OutputError::IsSurvey { .. }));
    assert!(matches!(refused("folder/../first.json", Keep), OutputError::Twice { .. }));
    assert!(matches!(refused("folder", Replace), OutputError::IsFolder { .. }));
    #[cfg(unix)]
    {
        assert!(std::process::Command::new("mkfifo").arg(at("pipe.json")).status().unwrap().success());
        for existing in [Keep, Replace] {
            assert!(matches!(refused("pipe.json", existing), OutputError::NoFile { .. }));
        }
        let mut places = Places::new(Replace);
        let refused = places.files_in(folder.path(), ["pipe.json"], &[]).unwrap_err();
        assert!(refused.to_string().ends_with("pipe.json is a pipe or a device, not a file"));
    }
    assert!(matches!(refused("nowhere/out.xlsx", Keep), OutputError::NoFolder { .. }));
    assert!(matches!(refused("there.xlsx/out.xlsx", Replace), OutputError::NoFolder { .. }));
    assert!(Places::new(Replace).file(&at("there.xlsx"), &surveys).is_ok());
    assert_eq!(listed(folder.path()).iter().filter(|name| name.starts_with(".sillbook")).count(), 0);
}

#[test]
fn a_list_in_a_folder_never_replaces_a_survey_there() {
    let folder = tempfile::tempdir().unwrap();
    let survey: PathBuf = folder.path().join("openings.csv");
    fs::write(&survey, "").unwrap();
    let mut places = Places::new(Existing::Replace);
    let refused = places.files_in(folder.path(), ["order.csv", "openings.csv"], &[survey]);
    assert!(matches!(refused.unwrap_err(), OutputError::IsSurvey { .. }));
}
