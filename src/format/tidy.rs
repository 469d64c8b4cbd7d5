//! Tidying a plan file: what writing it canonically changes, and that the plan stays the same.

use super::error::ReadError;
use super::layout::lay_out;
use super::outline::{Node, Shape, Span, line_and_column, start_of};
use super::read::{outline_of, read, text_of};
use super::scan::outline_and_comments;
use super::write::{HEAD, write};
use crate::model::Plan;

/// A plan file made tidy.
#[derive(Clone, Debug, PartialEq)]
pub struct Tidied {
    /// The plan that it holds, before and after.
    pub plan: Plan,
    /// Its canonical text.
    pub text: String,
    /// What differs from the text as it was; nothing: it was tidy.
    pub changes: Vec<TidyChange>,
}

/// Something of a file that writing it canonically changes; the plan does not depend on it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TidyChange {
    /// Comments go, for a canonical file has none.
    Comments {
        /// The line of each, from 1, and its first words.
        lines: Vec<(usize, String)>,
    },
    /// The byte order mark goes.
    Mark,
    /// Lines end in LF.
    LineEnds,
    /// Values stand without `Some(..)` round them.
    Wrapped {
        /// The paths of the fields.
        paths: Vec<String>,
    },
    /// Records stand without their names.
    Named {
        /// The paths of the records; empty for the plan itself.
        paths: Vec<String>,
    },
    /// Fields come in the order of the format's description.
    Order {
        /// The paths of the records; empty for the plan itself.
        paths: Vec<String>,
    },
    /// Fields that hold what is meant without them go.
    LeftOut {
        /// The paths of the fields.
        paths: Vec<String>,
    },
    /// Fields that are always written come.
    Added {
        /// The paths of the fields.
        paths: Vec<String>,
    },
    /// Values are written the one way: path, as it was, as it becomes.
    Values {
        /// The values.
        values: Vec<(String, String, String)>,
    },
    /// Spaces and line breaks.
    Layout,
}

/// Why a file cannot be made tidy.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum TidyError {
    /// It holds no plan that can be read.
    #[error(transparent)]
    Read(#[from] ReadError),
    /// The canonical text would hold another plan; this is a fault of the program.
    #[error("the tidy text does not hold the same plan, so nothing was changed; please report this file")]
    NotTheSame,
}

/// Makes the file `bytes` tidy, and tells what that changes.
///
/// # Errors
/// [`TidyError::Read`] as [`read`]; [`TidyError::NotTheSame`] where the canonical text does not read back equal.
pub fn tidy(bytes: &[u8]) -> Result<Tidied, TidyError> {
    let plan = read(bytes)?;
    let text = write(&plan);
    if read(text.as_bytes()).ok().as_ref() != Some(&plan) {
        return Err(TidyError::NotTheSame);
    }
    let changes = if bytes == text.as_bytes() { Vec::new() } else { changes(bytes, &text)? };
    Ok(Tidied { plan, text, changes })
}

fn changes(bytes: &[u8], canonical: &str) -> Result<Vec<TidyChange>, ReadError> {
    let old = text_of(bytes)?;
    let (root, comments) = outline_and_comments(old).map_err(ReadError::Form)?;
    let Some(root) = root else { return Ok(Vec::new()) };
    let mut found = Differences { old, new: canonical, ..Differences::default() };
    found.compare(&root, &outline_of(canonical)?, "");
    let lines: Vec<(usize, String)> = comments
        .iter()
        .map(|comment| (line_and_column(old, comment.start as usize).0, start_of(comment.of(old).trim())))
        .collect();
    let mut changes = Vec::new();
    let mut tell = |when: bool, change: TidyChange| {
        if when {
            changes.push(change);
        }
    };
    tell(!lines.is_empty(), TidyChange::Comments { lines });
    tell(bytes.starts_with(b"\xEF\xBB\xBF"), TidyChange::Mark);
    tell(old.contains('\r'), TidyChange::LineEnds);
    tell(!found.wrapped.is_empty(), TidyChange::Wrapped { paths: found.wrapped });
    tell(!found.named.is_empty(), TidyChange::Named { paths: found.named });
    tell(!found.order.is_empty(), TidyChange::Order { paths: found.order });
    tell(!found.left_out.is_empty(), TidyChange::LeftOut { paths: found.left_out });
    tell(!found.added.is_empty(), TidyChange::Added { paths: found.added });
    tell(!found.values.is_empty(), TidyChange::Values { values: found.values });
    tell(is_laid_out_otherwise(old, &root, &comments), TidyChange::Layout);
    if changes.is_empty() {
        // What is left are line breaks at the end.
        changes.push(TidyChange::Layout);
    }
    Ok(changes)
}

/// Whether spaces and line breaks of `old` are others than the writer's, comments left aside.
fn is_laid_out_otherwise(old: &str, root: &Node, comments: &[Span]) -> bool {
    let mut bare = String::with_capacity(old.len());
    let mut at = 0;
    for comment in comments {
        bare.push_str(old.get(at..comment.start as usize).unwrap_or_default());
        at = comment.end as usize;
    }
    bare.push_str(old.get(at..).unwrap_or_default());
    let lines = |text: &str| -> Vec<String> {
        text.lines().map(|line| line.trim_end().to_owned()).filter(|line| !line.is_empty()).collect()
    };
    lines(&bare) != lines(&format!("{HEAD}{}", lay_out(old, root)))
}

/// What differs between two outlines of one plan, by the path of the field.
#[derive(Default)]
struct Differences<'t> {
    old: &'t str,
    new: &'t str,
    wrapped: Vec<String>,
    named: Vec<String>,
    order: Vec<String>,
    left_out: Vec<String>,
    added: Vec<String>,
    values: Vec<(String, String, String)>,
}

impl Differences<'_> {
    fn compare(&mut self, old: &Node, new: &Node, path: &str) {
        let inner = old.inner(self.old);
        if !std::ptr::eq(inner, old) {
            self.wrapped.push(path.to_owned());
        }
        let (old, new) = (inner, new.inner(self.new));
        if old.name.is_some() && new.name.is_none() && new.shape != Shape::Leaf {
            self.named.push(path.to_owned());
        }
        match (&old.shape, &new.shape) {
            (Shape::Round(_), Shape::Round(_)) if old.items().iter().any(|item| item.key.is_some()) => {
                self.compare_fields(old, new, path);
            }
            (Shape::Leaf, _) | (_, Shape::Leaf) => self.compare_text(old, new, path),
            _ if old.items().len() == new.items().len() => {
                let list = matches!(old.shape, Shape::Square(_));
                for (number, (a, b)) in old.items().iter().zip(new.items()).enumerate() {
                    let path = if list { format!("{path}[{number}]") } else { path.to_owned() };
                    self.compare(&a.value, &b.value, &path);
                }
            }
            _ => self.compare_text(old, new, path),
        }
    }

    fn compare_fields(&mut self, old: &Node, new: &Node, path: &str) {
        let keys = |node: &Node, text: &str| -> Vec<String> {
            node.items().iter().filter_map(|item| Some(item.key?.of(text).to_owned())).collect()
        };
        let (old_keys, new_keys) = (keys(old, self.old), keys(new, self.new));
        let inside = |key: &String| if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
        self.left_out.extend(old_keys.iter().filter(|key| !new_keys.contains(key)).map(inside));
        self.added.extend(new_keys.iter().filter(|key| !old_keys.contains(key)).map(inside));
        let common = |keys: &[String], others: &[String]| -> Vec<String> {
            keys.iter().filter(|key| others.contains(key)).cloned().collect()
        };
        if common(&old_keys, &new_keys) != common(&new_keys, &old_keys) {
            self.order.push(path.to_owned());
        }
        for key in &new_keys {
            if let (Some(a), Some(b)) = (old.field(self.old, key), new.field(self.new, key)) {
                self.compare(&a.value, &b.value, &inside(key));
            }
        }
    }

    fn compare_text(&mut self, old: &Node, new: &Node, path: &str) {
        let (from, to) = (old.span.of(self.old), new.span.of(self.new));
        if from != to {
            self.values.push((path.to_owned(), start_of(from), start_of(to)));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TIDY: &str = "#![enable(implicit_some)]
(
    version: 1,
    title: \"T\",
    units: Metric,
    train: (front_beyond: (kind: Nothing, distance_mm: 0), rear_beyond: (kind: Nothing, distance_mm: 0)),
    route: (),
    limits: (),
)
";

    fn check(from: &str, to: &str, expected: &[TidyChange]) {
        let tidied = tidy(TIDY.replacen(from, to, 1).as_bytes()).unwrap();
        assert_eq!(tidied.changes, expected, "{to}");
    }

    fn paths(paths: &[&str]) -> Vec<String> {
        paths.iter().map(|path| (*path).to_owned()).collect()
    }

    #[test]
    fn a_tidy_file_has_no_changes() {
        let tidied = tidy(TIDY.as_bytes()).unwrap();
        assert_eq!((tidied.text.as_str(), tidied.changes), (TIDY, Vec::new()));
    }

    #[test]
    fn each_kind_of_change_is_told_by_itself() {
        let title = "title: \"T\",";
        let comment = |line, words: &str| TidyChange::Comments { lines: vec![(line, words.to_owned())] };
        check(title, "title: \"T\", // mine", &[comment(4, "// mine")]);
        check(title, "/* a\n b */ title: \"T\",", &[comment(4, "/* a"), TidyChange::Layout]);
        check("#!", "\u{feff}#!", &[TidyChange::Mark]);
        check(
            "\n    title: \"T\",\n    units: Metric,",
            "\n    units: Metric,\n    title: \"T\",",
            &[TidyChange::Order { paths: paths(&[""]) }],
        );
        check(
            "distance_mm: 0",
            "distance_mm: 0.0",
            &[TidyChange::Values {
                values: vec![("train.front_beyond.distance_mm".to_owned(), "0.0".to_owned(), "0".to_owned())],
            }],
        );
        let left_out = |path| TidyChange::LeftOut { paths: paths(&[path]) };
        check(title, "title: \"T\",\n    notes: \"\",", &[left_out("notes")]);
        check("\n    route: (),", "", &[TidyChange::Added { paths: paths(&["route"]) }]);
        check("\n(\n", "\nPlan(\n", &[TidyChange::Named { paths: paths(&[""]) }]);
        check("    route: ()", "  route: ()", &[TidyChange::Layout]);
        check("#![enable(implicit_some)]\n", "", &[TidyChange::Layout]);
        check(
            "front_beyond: (",
            "coupling_slack_mm: Some(40), front_beyond: (",
            &[TidyChange::Wrapped { paths: paths(&["train.coupling_slack_mm"]) }],
        );
    }

    #[test]
    fn a_file_that_cannot_be_read_is_left_alone() {
        assert!(matches!(tidy(b"(version: 1)"), Err(TidyError::Read(_))));
        assert!(matches!(tidy(b""), Err(TidyError::Read(_))));
    }
}
