//! What the words of the window mean, a sentence each, shown where the pointer rests on them.

mod words;

use egui::{Response, Ui};
use words::WORDS;

/// What `term` means, where it needs saying. Names and numbers in it do not matter: what is said of one string, one
/// step or one limit is said of all.
pub(super) fn meaning(term: &str) -> Option<&'static str> {
    let of = |term: &str| WORDS.iter().find(|(known, _)| *known == term).map(|(_, meaning)| *meaning);
    if let Some(meaning) = of(term) {
        return Some(meaning);
    }
    let endings = [
        (", while travelling", None),
        (
            ", between steps",
            Some("The value while strings come off or on; left empty, that of the road holds."),
        ),
        (", source", of("Source")),
        (", how sure", of("How sure")),
        (
            " leaves together",
            Some("Both strings of the pair leave at once: its half-done states are only noted."),
        ),
    ];
    for (ending, meaning) in endings {
        if let Some(term) = term.strip_suffix(ending) {
            return meaning.or_else(|| of(term));
        }
    }
    let beginnings = [
        ("Select ", "Chooses the string, for what is done to several at once."),
        ("Turn ", "Turns the vehicle round: all that is fixed to it is mirrored, not the strings."),
    ];
    beginnings.into_iter().find(|(beginning, _)| term.starts_with(beginning)).map(|(_, meaning)| meaning)
}

/// A label that says what it means where the pointer rests on it.
pub(super) fn term_ui(ui: &mut Ui, term: &str) -> Response {
    explained(ui.label(term), term)
}

/// The same thing, saying what `term` means where the pointer rests on it.
pub(super) fn explained(response: Response, term: &str) -> Response {
    match meaning(term) {
        Some(meaning) => response.on_hover_text(meaning),
        None => response,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::OnDisk;
    use crate::gui::{Request, SAMPLES, Tab, Workbench};
    use egui_kittest::Harness;
    use egui_kittest::kittest::NodeT as _;
    use std::collections::BTreeSet;

    /// The names of all fields of all forms on a sample.
    fn fields(sample: usize) -> BTreeSet<String> {
        let workbench = Workbench::new(SAMPLES[sample].plan().unwrap(), OnDisk::Yes);
        let mut editor = Harness::builder()
            .with_size(egui::vec2(2_000.0, 3_000.0))
            .build_ui_state(|ui, workbench: &mut Workbench| workbench.ui(ui), workbench);
        editor.run_steps(3);
        let mut names = BTreeSet::new();
        let string = editor.state().document().plan().order[0].mark.clone();
        let mut asked: Vec<Request> = Tab::SET_UP.into_iter().map(Request::ShowTab).collect();
        asked.push(Request::ShowThing(crate::checks::Subject::RackType(0)));
        asked.push(Request::SelectVehicle(Some(0)));
        asked.push(Request::Select { strings: vec![string], mode: crate::gui::SelectMode::Only });
        for request in asked {
            editor.state_mut().ask(request);
            editor.run_steps(3);
            let is_field = |role: egui::Role| {
                matches!(role, egui::Role::TextInput | egui::Role::ComboBox | egui::Role::CheckBox)
            };
            let nodes =
                editor.root().children_recursive().filter(|node| is_field(node.accesskit_node().role()));
            names.extend(nodes.filter_map(|node| node.accesskit_node().label()));
        }
        names
    }

    #[test]
    fn every_meaning_is_one_sentence_and_no_term_stands_twice() {
        for (at, (term, meaning)) in WORDS.iter().enumerate() {
            assert!(meaning.ends_with('.') && meaning.len() > 10 && meaning.len() < 130, "{term}");
            assert!(!WORDS[..at].iter().any(|(other, _)| other == term), "{term}");
        }
    }

    #[test]
    fn every_limit_says_what_it_means() {
        for kind in crate::model::LimitKind::ALL {
            assert!(meaning(kind.title()).is_some(), "{}", kind.title());
        }
    }

    #[test]
    fn every_field_of_every_form_says_what_it_means() {
        let names: BTreeSet<String> = [1, 2, 4].into_iter().flat_map(fields).collect();
        assert!(names.len() > 60, "{}", names.len());
        let without: Vec<&String> = names.iter().filter(|name| meaning(name).is_none()).collect();
        assert!(without.is_empty(), "{without:#?}");
    }
}
