//! All checks, a line each, in the order in which reports list them.

use super::Check;

/// Every check of the program.
pub static REGISTRY: &[&Check] = &[];

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use std::path::Path;

    /// Files of the folder that are no check.
    const CORE: [&str; 9] =
        ["assess", "check", "finding", "judge", "mod", "registry", "row", "subject", "trial"];

    #[test]
    fn the_registry_holds_every_check_of_the_folder_and_no_other() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/checks");
        let files: BTreeSet<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
            .filter(|name| !CORE.contains(&name.as_str()))
            .collect();
        let registered: BTreeSet<String> = REGISTRY.iter().map(|check| check.id.replace('-', "_")).collect();
        assert_eq!(files, registered);
        assert_eq!(registered.len(), REGISTRY.len(), "an id stands twice");
    }

    #[test]
    fn ids_are_in_kebab_case() {
        for check in REGISTRY {
            let kebab = check.id.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
            assert!(kebab && !check.id.starts_with('-') && !check.id.ends_with('-'), "{}", check.id);
        }
    }

    #[test]
    fn every_check_says_what_it_is_for() {
        for check in REGISTRY {
            for (name, section) in [
                ("title", check.title),
                ("what", check.what),
                ("why", check.why),
                ("mend", check.mend),
                ("source", check.source),
            ] {
                assert!(!section.trim().is_empty(), "{}: {name} is empty", check.id);
            }
        }
    }
}
