//! The whole editor, drawn into a `Ui`.

use super::canvas::Canvas;
use super::{Document, Preview, Request, SelectMode, Selection, Shown, Theme};
use crate::checks::{Assessment, assess};
use crate::edit::{Edit, OnDisk};
use crate::model::Plan;
use crate::statics::{Figures, Scope};
use crate::units::{DecimalMark, Style};
use std::sync::Arc;

/// The editor: document, selection, preview and views. It knows nothing of the window around it.
#[derive(Debug)]
pub struct Workbench {
    document: Document,
    selection: Selection,
    state: usize,
    preview: Option<Preview>,
    /// What the checks say of the state shown alone, for previews to compare with; none: not worked out yet.
    before: Option<Assessment>,
    decimal: DecimalMark,
    canvas: Canvas,
    said: String,
}

impl Workbench {
    /// An editor on `plan`.
    pub fn new(plan: Plan, on_disk: OnDisk) -> Self {
        Self {
            document: Document::new(Arc::new(plan), on_disk),
            selection: Selection::default(),
            state: 0,
            preview: None,
            before: None,
            decimal: DecimalMark::default(),
            canvas: Canvas::default(),
            said: String::new(),
        }
    }

    /// The open document.
    pub fn document(&self) -> &Document {
        &self.document
    }

    /// What is selected.
    pub fn selection(&self) -> &Selection {
        &self.selection
    }

    /// The preview, while one lasts.
    pub fn preview(&self) -> Option<&Preview> {
        self.preview.as_ref()
    }

    /// Draws everything and does what was asked for.
    pub fn ui(&mut self, ui: &mut egui::Ui) {
        let mut requests = Vec::new();
        let theme = if ui.visuals().dark_mode { Theme::DARK } else { Theme::LIGHT };
        let mut canvas = std::mem::take(&mut self.canvas);
        let shown = self.shown(&theme);
        canvas.train_side_ui(ui, &shown, &mut requests);
        canvas.rack_face_ui(ui, &shown, &mut requests);
        canvas.drag_ui(ui, &shown, &mut requests);
        self.canvas = canvas;
        for request in requests {
            self.grant(request);
        }
    }

    fn shown<'a>(&'a self, theme: &'a Theme) -> Shown<'a> {
        let (settled, settled_assessment) = (self.document.figures(), self.document.assessment());
        let (figures, assessment) = match &self.preview {
            Some(preview) => (&preview.figures, &preview.assessment),
            None => (settled, settled_assessment),
        };
        Shown {
            plan: &figures.plan,
            figures,
            assessment,
            settled,
            settled_assessment,
            state: self.state,
            selection: &self.selection,
            style: Style { units: figures.plan.units, decimal: self.decimal },
            preview: self.preview.as_ref(),
            theme,
        }
    }

    /// Does what was asked for.
    fn grant(&mut self, request: Request) {
        match request {
            Request::Edit(edit) => self.make(&edit),
            Request::Preview(edit) => self.show_preview(edit),
            Request::Select { strings, mode } => self.select(strings, mode),
            Request::ShowState(state) => {
                self.state = state.min(self.document.figures().states.len().saturating_sub(1));
                self.before = None;
            }
            Request::ShowRack(rack) => self.selection.rack = rack,
            Request::SelectVehicle(vehicle) => self.selection.vehicle = vehicle,
            Request::ZoomTo(target) => self.canvas.zoom_to(target),
            Request::Grab { strings, grab_offset } => self.canvas.grab(strings, grab_offset),
            Request::Undo => drop(self.document.undo()),
            Request::Redo => drop(self.document.redo()),
            Request::Say(words) => self.said = words,
            _ => {}
        }
    }

    fn make(&mut self, edit: &Edit) {
        self.preview = None;
        self.before = None;
        if let Err(error) = self.document.apply(edit) {
            self.said = error.to_string();
        }
    }

    fn show_preview(&mut self, edit: Option<Edit>) {
        let Some(edit) = edit else {
            self.preview = None;
            return;
        };
        if self.preview.as_ref().is_some_and(|preview| preview.edit == edit) {
            return;
        }
        let plan = self.document.plan();
        let before =
            self.before.get_or_insert_with(|| assess(&Figures::of(Arc::clone(plan), Scope::One(self.state))));
        self.preview = Some(Preview::of(edit, plan, self.state, before));
    }

    fn select(&mut self, strings: Vec<crate::model::StringMark>, mode: SelectMode) {
        let selected = &mut self.selection.strings;
        match mode {
            SelectMode::Only => *selected = strings.into_iter().collect(),
            SelectMode::Add => selected.extend(strings),
            SelectMode::Toggle => {
                for mark in strings {
                    if !selected.remove(&mark) {
                        selected.insert(mark);
                    }
                }
            }
        }
    }
}
