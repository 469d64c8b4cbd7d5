//! The menu of what can be asked "how?" of a thing.

use super::working::How;
use crate::checks::Subject;
use crate::gui::{Request, Shown};
use crate::working::{Question, figure_names, questions};
use egui::{ScrollArea, Ui};

/// Draws the title of a thing's details, and a button whose menu lists every figure of it.
pub(super) fn how_title_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    (title, thing): (&str, Subject),
    requests: &mut Vec<Request>,
) {
    ui.horizontal(|ui| {
        ui.strong(title);
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            how_menu_ui(ui, shown, thing, requests);
        });
    });
}

/// Draws a button whose menu lists every figure of `thing` (a string, vehicle, rack or drop).
fn how_menu_ui(ui: &mut Ui, shown: &Shown<'_>, thing: Subject, requests: &mut Vec<Request>) {
    let name = format!("How? {}", thing.place(shown.figures));
    let menu = ui.menu_button("How?", |ui| how_list_ui(ui, shown, thing, requests)).response;
    menu.accessible_name(name).on_hover_text("How a figure of it came about");
}

/// Draws the list of the figures of `thing`; of a figure that it has at many places, a list of the places.
pub(in crate::gui) fn how_list_ui(
    ui: &mut Ui,
    shown: &Shown<'_>,
    thing: Subject,
    requests: &mut Vec<Request>,
) {
    let figures = shown.figures;
    let asked: Vec<Question> =
        questions(figures).into_iter().filter(|question| is_of(question.subject, thing)).collect();
    if asked.is_empty() {
        ui.weak("Nothing is worked out of it.");
    }
    for (name, title) in figure_names() {
        let of_it: Vec<Question> = asked.iter().filter(|question| question.what == name).copied().collect();
        match of_it.as_slice() {
            [] => {}
            [only] => ask_ui(ui, title.to_owned(), *only, requests),
            many => {
                ui.menu_button(title, |ui| {
                    ScrollArea::vertical().max_height(360.0).show(ui, |ui| {
                        for question in many {
                            ask_ui(ui, question.subject.place(figures), *question, requests);
                        }
                    });
                });
            }
        }
    }
}

fn ask_ui(ui: &mut Ui, words: String, question: Question, requests: &mut Vec<Request>) {
    if ui.button(words).clicked() {
        requests.push(Request::ShowWorking(How::Figure(question)));
        ui.close();
    }
}

/// Whether a figure of `subject` is one of `thing`.
fn is_of(subject: Subject, thing: Subject) -> bool {
    match thing {
        Subject::String(string) => match subject {
            Subject::String(own) | Subject::StringEnd(own, _) | Subject::StringAtRack(own, _) => {
                own == string
            }
            _ => false,
        },
        Subject::Vehicle(vehicle) => match subject {
            Subject::Vehicle(own)
            | Subject::Support(own, _)
            | Subject::Axle(own, _)
            | Subject::Wheel(own, ..) => own == vehicle,
            _ => false,
        },
        Subject::Rack(rack) => match subject {
            Subject::Rack(own) | Subject::RackTier(own, _) | Subject::Pocket(own, ..) => own == rack,
            _ => false,
        },
        Subject::Drop(drop) => match subject {
            Subject::Drop(own) | Subject::Step(own, _) => own == drop,
            _ => false,
        },
        _ => subject == thing,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thing_is_asked_for_the_figures_of_its_parts_and_of_no_other() {
        assert!(is_of(Subject::StringAtRack(3, 7), Subject::String(3)));
        assert!(!is_of(Subject::StringAtRack(3, 7), Subject::Rack(7)));
        assert!(is_of(Subject::Axle(2, 3), Subject::Vehicle(2)));
        assert!(!is_of(Subject::Axle(2, 3), Subject::Vehicle(3)));
        assert!(is_of(Subject::Pocket(5, 1, 1), Subject::Rack(5)));
        assert!(is_of(Subject::Step(0, 4), Subject::Drop(0)));
        assert!(is_of(Subject::Train, Subject::Train));
    }
}
