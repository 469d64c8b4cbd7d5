//! The house rules of DEVELOPERS.md, read off the source: floors, circles, sizes, and where libraries may be used.
//!
//! Every rule is shown to bite on a planted fault before it is run on the source.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

/// A source file: its path from the project's root, with `/`, and its text.
struct SourceFile {
    path: String,
    text: String,
}

/// A row of the table of modules in DEVELOPERS.md.
struct Told {
    name: String,
    /// A module may use only modules of lower floors.
    floor: u32,
    may_use: MayUse,
}

/// What the table says that a module may use.
enum MayUse {
    /// These, and it does use each of them.
    These(BTreeSet<String>),
    /// Any of a lower floor.
    AllBelow,
}

/// The table of modules as it stands.
static TABLE: LazyLock<Vec<Told>> = LazyLock::new(|| told_in(include_str!("../../DEVELOPERS.md")));

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

/// The rows of the table whose first columns are module and floor, and whose last says what it may use.
fn told_in(page: &str) -> Vec<Told> {
    let rows = page.lines().filter_map(|line| {
        let cells: Vec<&str> =
            line.strip_prefix("| `")?.trim_end_matches('|').split(" | ").map(str::trim).collect();
        let [name, floor, _, may_use] = cells.as_slice() else { return None };
        let may_use = match *may_use {
            "nothing" => MayUse::These(BTreeSet::new()),
            all if all.starts_with("all below") => MayUse::AllBelow,
            list => {
                MayUse::These(list.split(',').map(|name| name.trim().trim_matches('`').to_owned()).collect())
            }
        };
        Some(Told { name: name.trim_matches('`').to_owned(), floor: floor.parse().ok()?, may_use })
    });
    rows.collect()
}

fn floor_of(module: &str) -> Option<u32> {
    TABLE.iter().find(|told| told.name == module).map(|told| told.floor)
}

/// The text with everything but code blanked, line by line: comments, and what stands behind `#[cfg(test)]`, be it a
/// module here, a module in another file, or another item.
///
/// Goes by the layout of rustfmt: an item that does not end on its first line ends with a brace as far in as it began.
fn code(text: &str) -> String {
    let mut code = String::new();
    let mut lines = text.lines();
    while let Some(line) = lines.next() {
        if line.trim() == "#[cfg(test)]" {
            let indent = &line[..line.len() - line.trim_start().len()];
            code.push('\n');
            for line in lines.by_ref() {
                code.push('\n');
                let begins = line.starts_with(indent) && !line[indent.len()..].starts_with([' ', '#', '/']);
                if begins && (line.ends_with(';') || line.ends_with('}')) {
                    break;
                }
            }
            continue;
        }
        code.push_str(line.split("//").next().unwrap_or_default());
        code.push('\n');
    }
    code
}

/// The names behind `#[cfg(test)]` that are modules in files of their own.
fn test_modules(text: &str) -> impl Iterator<Item = &str> {
    let behind = text.split("#[cfg(test)]\n").skip(1).filter_map(|rest| rest.lines().next());
    behind.filter_map(|line| line.trim().rsplit_once("mod ")?.1.strip_suffix(';'))
}

/// The files that are compiled for tests only, as their parents say.
fn test_files(files: &[SourceFile]) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for file in files {
        let folder = match file.path.strip_suffix("/mod.rs").or(file.path.strip_suffix("/lib.rs")) {
            Some(folder) => folder,
            None => file.path.trim_end_matches(".rs"),
        };
        for name in test_modules(&file.text) {
            found.extend([format!("{folder}/{name}.rs"), format!("{folder}/{name}/mod.rs")]);
        }
    }
    found
}

/// Every module of the crate that code names, with its line: `crate::x`, `longstow::x`, and each of `crate::{x, y::z}`
/// over however many lines.
fn modules_named(code: &str) -> Vec<(usize, String)> {
    let mut named = Vec::new();
    for root in ["crate::", "longstow::"] {
        for (at, _) in code.match_indices(root) {
            let start = at + root.len();
            let mut note = |from: usize| {
                let from = from + code[from..].len() - code[from..].trim_start().len();
                let word: String =
                    code[from..].chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
                named.push((code[..from].matches('\n').count() + 1, word));
            };
            let Some(list) = code[start..].strip_prefix('{') else {
                note(start);
                continue;
            };
            note(start + 1);
            let mut depth = 0;
            for (offset, c) in list.char_indices() {
                match c {
                    '{' => depth += 1,
                    '}' if depth == 0 => break,
                    '}' => depth -= 1,
                    ',' if depth == 0 => note(start + 1 + offset + 1),
                    _ => {}
                }
            }
        }
    }
    named.retain(|(_, name)| !name.is_empty());
    named
}

fn imports(files: &[SourceFile]) -> Vec<(&SourceFile, usize, &str, String)> {
    let mut found = Vec::new();
    for file in files {
        let Some(module) = module_of(&file.path) else { continue };
        for (number, named) in modules_named(&code(&file.text)) {
            if named != module && floor_of(&named).is_some() {
                found.push((file, number, module, named));
            }
        }
    }
    found
}

/// Where the table and the source differ: in what a module uses, or in that it is there. Tests may use more than is
/// told.
fn not_as_told(table: &[Told], files: &[SourceFile]) -> Vec<String> {
    let tests = test_files(files);
    let mut uses: BTreeMap<&str, BTreeSet<String>> = BTreeMap::new();
    for (file, _, from, to) in imports(files) {
        if !tests.contains(&file.path) {
            uses.entry(from).or_default().insert(to);
        }
    }
    let mut found = Vec::new();
    for told in table {
        let used = uses.remove(told.name.as_str()).unwrap_or_default();
        if !files.iter().any(|file| module_of(&file.path) == Some(&told.name)) {
            found.push(format!("{} is told of and is not there", told.name));
        }
        if let MayUse::These(these) = &told.may_use {
            let name = &told.name;
            found.extend(
                used.difference(these).map(|other| format!("{name} uses {other}, which is not told")),
            );
            found.extend(
                these.difference(&used).map(|other| format!("{name} is told to use {other} and does not")),
            );
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
    let tests = test_files(files);
    for file in files.iter().filter(|file| file.path.starts_with("src/") && !tests.contains(&file.path)) {
        if places.iter().any(|place| file.path.starts_with(place)) {
            continue;
        }
        for (number, line) in (1..).zip(code(&file.text).lines()) {
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
    let lines = "//! x\nuse crate::{\n    model::{Plan, Step},\n    statics::Figures,\n};\n";
    check_rule(upward_imports, &[("src/edit/a.rs", lines)]);
    let below_tests = "//! x\n#[cfg(test)]\nmod tests;\n\nuse crate::checks::Finding;\n";
    check_rule(upward_imports, &[("src/model/plan.rs", below_tests)]);
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
fn modules_use_what_the_table_says_and_all_of_it() {
    let check = |may_use: &str, text: &str, expected: &[&str]| {
        let table =
            told_in(&format!("| module | floor |\n|---|---|\n| `edit` | 2 | changes | {may_use} |\n"));
        let file = SourceFile { path: "src/edit/a.rs".to_owned(), text: text.to_owned() };
        assert_eq!(not_as_told(&table, &[file]), expected, "{may_use}: {text}");
    };
    let uses_model = "//! x\nuse crate::model::Plan;\n";
    check("`model`", uses_model, &[]);
    check("all below, not `gui`", uses_model, &[]);
    check("nothing", uses_model, &["edit uses model, which is not told"]);
    check("model, units", uses_model, &["edit is told to use units and does not"]);
    let table = told_in("| `edit` | 2 | changes | nothing |\n");
    assert_eq!(not_as_told(&table, &[]), ["edit is told of and is not there"]);
    check("nothing", "//! x\n#[cfg(test)]\nmod tests {\n    use crate::model::Plan;\n}\n", &[]);
    let found = not_as_told(&TABLE, &source_files());
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn the_reader_of_code_leaves_out_tests_wherever_they_stand_and_nothing_else() {
    let check = |text: &str, expected: &str| {
        let read = code(text);
        assert_eq!(
            read.lines().filter(|line| !line.trim().is_empty()).collect::<Vec<_>>().join("|"),
            expected
        );
        assert_eq!(read.lines().count(), text.lines().count(), "lines keep their numbers: {text}");
    };
    check("//! x\n#[cfg(test)]\nmod tests;\n\nuse a;\n", "use a;");
    check("use a; // why\n#[cfg(test)]\npub(crate) mod trial;\nuse b;\n", "use a; |use b;");
    check(
        "use a;\n#[cfg(test)]\nmod tests {\n    fn f() {\n    }\n\n    use b;\n}\nuse c;\n",
        "use a;|use c;",
    );
    check(
        "impl A {\n    #[cfg(test)]\n    fn f() {\n        g();\n    }\n    fn h() {}\n}\n",
        "impl A {|    fn h() {}|}",
    );
    check("#[cfg(test)]\n#[path = \"x.rs\"]\nmod tests;\nuse a;\n", "use a;");
    assert_eq!(
        modules_named("use crate::{\n    a::{b, c},\n    d,\n};\nfn f() { crate::e::g() }\n"),
        [(2, "a".to_owned()), (3, "d".to_owned()), (5, "e".to_owned())]
    );
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
