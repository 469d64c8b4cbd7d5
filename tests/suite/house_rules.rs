//! The house rules of DEVELOPERS.md, read off the source: floors, circles, sizes, and where libraries may be used.
//!
//! Every rule is shown to bite on a planted fault before it is run on the source.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// A source file: its path from the project's root, with `/`, and its text.
struct SourceFile {
    path: String,
    text: String,
}

/// Modules of the crate with their floor; a module may use only modules of lower floors.
const FLOORS: &[(&str, u32)] = &[
    ("units", 0),
    ("model", 1),
    ("statics", 2),
    ("edit", 2),
    ("format", 2),
    ("disk", 2),
    ("checks", 3),
    ("intake", 3),
    ("planning", 4),
    ("working", 4),
    ("drawing", 5),
    ("report", 6),
    ("cli", 7),
    ("gui", 7),
    ("main", 8),
];

/// `serde`, `serde_json`, `ron` and `serde_path_to_error` belong here.
const SERDE_PLACES: &[&str] = &["src/format/", "src/report/json", "src/gui/theme"];

/// Window libraries belong here.
const WINDOW_LIBRARIES: &[&str] = &["egui", "eframe", "egui_plot", "egui_extras", "rfd"];

const LONGEST_FILE_LINES: usize = 600;

fn source_files() -> Vec<SourceFile> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut folders: Vec<PathBuf> = vec![root.join("src"), root.join("tests")];
    let mut files = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                let text = fs::read_to_string(&path).unwrap();
                let path = path.strip_prefix(root).unwrap().to_string_lossy().replace('\\', "/");
                files.push(SourceFile { path, text });
            }
        }
    }
    files.sort_by(|a, b| a.path.cmp(&b.path));
    files
}

/// The top module that a file belongs to; none for `lib.rs`, the test fixtures and tests.
fn module_of(path: &str) -> Option<&str> {
    let rest = path.strip_prefix("src/")?;
    let module = rest.split('/').next()?.trim_end_matches(".rs");
    (!matches!(module, "lib" | "fixtures")).then_some(module)
}

fn floor_of(module: &str) -> Option<u32> {
    FLOORS.iter().find(|(name, _)| *name == module).map(|(_, floor)| *floor)
}

/// Code lines with their numbers: comments and what a `#[cfg(test)] mod tests` holds are left out.
fn code_lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let tests_start = text.find("#[cfg(test)]\nmod tests").unwrap_or(text.len());
    text[..tests_start].lines().enumerate().filter_map(|(number, line)| {
        let line = line.split("//").next().unwrap_or("");
        (!line.trim().is_empty()).then_some((number + 1, line))
    })
}

/// Every module of the crate that a line names: `crate::x`, `longstow::x`, and each of `crate::{x, y::z}`.
fn modules_named(line: &str) -> Vec<String> {
    let mut named = Vec::new();
    for root in ["crate::", "longstow::"] {
        for (at, _) in line.match_indices(root) {
            let rest = &line[at + root.len()..];
            let word = |text: &str| -> String {
                text.trim_start().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()
            };
            match rest.strip_prefix('{') {
                Some(list) => {
                    let mut depth = 0;
                    let mut item = String::new();
                    for c in list.chars() {
                        match c {
                            '{' => depth += 1,
                            '}' if depth == 0 => break,
                            '}' => depth -= 1,
                            ',' if depth == 0 => named.push(word(&std::mem::take(&mut item))),
                            _ => item.push(c),
                        }
                    }
                    named.push(word(&item));
                }
                None => named.push(word(rest)),
            }
        }
    }
    named.retain(|name| !name.is_empty());
    named
}

fn imports(files: &[SourceFile]) -> Vec<(&SourceFile, usize, &str, String)> {
    let mut found = Vec::new();
    for file in files {
        let Some(module) = module_of(&file.path) else { continue };
        for (number, line) in code_lines(&file.text) {
            for named in modules_named(line) {
                if named != module && floor_of(&named).is_some() {
                    found.push((file, number, module, named));
                }
            }
        }
    }
    found
}

fn upward_imports(files: &[SourceFile]) -> Vec<String> {
    imports(files)
        .into_iter()
        .filter(|(_, _, from, to)| floor_of(to) >= floor_of(from))
        .map(|(file, line, from, to)| {
            format!("{}:{line}: {from} uses {to}, which is not below it", file.path)
        })
        .collect()
}

/// Modules that use each other, directly or by way of others.
fn circles(files: &[SourceFile]) -> Vec<String> {
    let mut uses: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (_, _, from, to) in imports(files) {
        uses.entry(from.to_owned()).or_default().insert(to);
    }
    let reaches = |start: &str| {
        let mut seen = BTreeSet::new();
        let mut open = vec![start.to_owned()];
        while let Some(module) = open.pop() {
            for next in uses.get(&module).into_iter().flatten() {
                if seen.insert(next.clone()) {
                    open.push(next.clone());
                }
            }
        }
        seen
    };
    uses.keys().filter(|module| reaches(module).contains(*module)).cloned().collect()
}

fn unknown_modules(files: &[SourceFile]) -> Vec<String> {
    let modules = files.iter().filter_map(|file| module_of(&file.path));
    modules.filter(|module| floor_of(module).is_none()).map(str::to_owned).collect()
}

fn long_files(files: &[SourceFile]) -> Vec<String> {
    let lines = |file: &SourceFile| file.text.lines().count();
    files
        .iter()
        .filter(|file| lines(file) > LONGEST_FILE_LINES)
        .map(|file| format!("{}: {} lines", file.path, lines(file)))
        .collect()
}

fn files_without_purpose(files: &[SourceFile]) -> Vec<String> {
    files.iter().filter(|file| !file.text.starts_with("//! ")).map(|file| file.path.clone()).collect()
}

/// Uses of any of `libraries` in `src` outside `places`.
fn strayed(files: &[SourceFile], libraries: &[&str], places: &[&str]) -> Vec<String> {
    let mut found = Vec::new();
    for file in files.iter().filter(|file| file.path.starts_with("src/") && !file.path.ends_with("/tests.rs"))
    {
        if places.iter().any(|place| file.path.starts_with(place)) {
            continue;
        }
        for (number, line) in code_lines(&file.text) {
            let uses = |library: &&&str| {
                line.contains(&format!("{library}::")) || line.contains(&format!("use {library};"))
            };
            if let Some(library) = libraries.iter().find(uses) {
                found.push(format!("{}:{number}: {library} does not belong here", file.path));
            }
        }
    }
    found
}

fn strayed_serde(files: &[SourceFile]) -> Vec<String> {
    strayed(files, &["serde", "serde_json", "ron", "serde_path_to_error"], SERDE_PLACES)
}

fn strayed_window_code(files: &[SourceFile]) -> Vec<String> {
    strayed(files, WINDOW_LIBRARIES, &["src/gui/"])
}

fn check_rule(rule: fn(&[SourceFile]) -> Vec<String>, planted: &[(&str, &str)]) {
    let planted: Vec<SourceFile> = planted
        .iter()
        .map(|(path, text)| SourceFile { path: (*path).to_owned(), text: (*text).to_owned() })
        .collect();
    assert!(!rule(&planted).is_empty(), "the rule does not see the planted fault");
    let found = rule(&source_files());
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn no_module_uses_one_that_is_not_below_it() {
    check_rule(upward_imports, &[("src/model/plan.rs", "//! x\nuse crate::checks::Finding;\n")]);
    check_rule(upward_imports, &[("src/edit/a.rs", "//! x\nuse crate::{model::Plan, statics::Figures};\n")]);
    check_rule(upward_imports, &[("src/cli/a.rs", "//! x\nfn f() { crate::gui::run() }\n")]);
}

#[test]
fn no_modules_use_each_other() {
    let planted = [
        ("src/statics/a.rs", "//! x\nuse crate::edit::Edit;\n"),
        ("src/edit/a.rs", "//! x\nuse crate::disk::save;\n"),
        ("src/disk/a.rs", "//! x\nuse crate::statics::Figures;\n"),
    ];
    check_rule(circles, &planted);
}

#[test]
fn every_module_has_a_floor() {
    check_rule(unknown_modules, &[("src/misc/mod.rs", "//! x\n")]);
}

#[test]
fn no_file_is_longer_than_600_lines() {
    check_rule(long_files, &[("src/model/plan.rs", &"//! x\n".repeat(601))]);
}

#[test]
fn every_file_says_what_it_is_for() {
    check_rule(files_without_purpose, &[("src/model/plan.rs", "use std::fmt;\n")]);
}

#[test]
fn serde_stays_in_its_places() {
    check_rule(strayed_serde, &[("src/model/plan.rs", "//! x\n#[derive(serde::Serialize)]\nstruct A;\n")]);
}

#[test]
fn window_code_stays_in_gui() {
    check_rule(strayed_window_code, &[("src/drawing/a.rs", "//! x\nuse egui::Color32;\n")]);
}
