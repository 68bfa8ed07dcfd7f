//! Data goes one way: a module uses only those declared above it in `lib.rs`. The command's own
//! modules, which `main.rs` declares, stand outside the library and reach it by its name.

use std::fs;
use std::path::{Path, PathBuf};

/// Modules in reading order, as `lib.rs` or `main.rs` declares them.
fn modules(root: &str) -> Vec<&str> {
    let names = root.lines().filter_map(|line| line.trim_start_matches("pub ").strip_prefix("mod "));
    names.filter_map(|name| name.strip_suffix(';')).collect()
}

/// Every `crate::name` in a file's code, comments left out.
fn uses(source: &str) -> Vec<&str> {
    let code = source.lines().filter(|line| !line.trim_start().starts_with("//"));
    code.flat_map(|line| line.split("crate::").skip(1))
        .map(|rest| {
            let end = rest.find(|c: char| !(c.is_ascii_lowercase() || c == '_')).unwrap_or(rest.len());
            &rest[..end]
        })
        .collect()
}

/// Arrows that go back, and grouped imports that would hide one.
fn faults(order: &[&str], module: &str, source: &str) -> Vec<String> {
    let Some(own) = order.iter().position(|name| *name == module) else {
        return vec![format!("{module} is not declared in lib.rs")];
    };
    uses(source)
        .into_iter()
        .filter_map(|used| match order.iter().position(|name| *name == used) {
            Some(other) if other <= own => None,
            Some(_) => Some(format!("{module} uses {used}, which lib.rs declares below it")),
            None => Some(format!("{module} uses crate::{used}: name one module in each `use crate::`")),
        })
        .collect()
}

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    let mut entries: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            found.push(path);
        }
    }
}

#[test]
fn data_goes_one_way() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let lib = fs::read_to_string(src.join("lib.rs")).unwrap();
    let order = modules(&lib);
    let main = fs::read_to_string(src.join("main.rs")).unwrap();
    let command = modules(&main);
    let mut files = Vec::new();
    sources(&src, &mut files);
    let mut found = Vec::new();
    // The command stands on the whole library and is no part of it.
    let apart = ["lib.rs", "main.rs", "cli.rs", "terminal.rs"].map(|name| src.join(name));
    for file in files.iter().filter(|file| !apart.contains(file)) {
        let inside = file.strip_prefix(&src).unwrap();
        let first = inside.components().next().unwrap().as_os_str().to_str().unwrap();
        let module = first.strip_suffix(".rs").unwrap_or(first);
        if command.contains(&module) {
            continue;
        }
        found.extend(faults(&order, module, &fs::read_to_string(file).unwrap()));
    }
    found.dedup();
    assert_eq!(found, Vec::<String>::new());
}

#[test]
fn an_arrow_going_back_is_found() {
    let order = ["length", "sizing", "cost"];
    assert_eq!(
        faults(&order, "sizing", "use crate::length::Length;\n// crate::cost\n"),
        Vec::<String>::new()
    );
    assert_eq!(
        faults(&order, "sizing", "use crate::cost::Cost;"),
        ["sizing uses cost, which lib.rs declares below it"]
    );
    assert_eq!(faults(&order, "cost", "use crate::{length, sizing};").len(), 1);
}
