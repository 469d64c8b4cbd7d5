//! The whole editor in a harness without a display, and the hands that work in it.

use crate::cpu_renderer::CpuRenderer;
use egui::{Pos2, Rect, Vec2, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use egui_kittest::{Harness, HarnessBuilder};
use longstow::edit::OnDisk;
use longstow::gui::Workbench;
use longstow::model::{Placement, Plan};
use std::path::Path;

/// An editor with its window.
pub(crate) type Editor = Harness<'static, Workbench>;

/// An editor on `plan`, 1280 x 800.
pub(crate) fn editor(plan: Plan) -> Editor {
    editor_of_size(plan, 1280.0, 800.0)
}

/// An editor on `plan` in a window of this size.
pub(crate) fn editor_of_size(plan: Plan, width: f32, height: f32) -> Editor {
    editor_with(Workbench::new(plan, OnDisk::Yes), vec2(width, height))
}

/// A window of this size around a workbench.
pub(crate) fn editor_with(workbench: Workbench, size: Vec2) -> Editor {
    editor_from(Harness::builder(), workbench, size)
}

/// An editor on `plan` in which words are typed that no font has, and are drawn as boxes.
pub(crate) fn editor_for_any_words(plan: Plan) -> Editor {
    let builder = Harness::builder().allow_missing_glyphs();
    editor_from(builder, Workbench::new(plan, OnDisk::Yes), vec2(1280.0, 800.0))
}

fn editor_from(builder: HarnessBuilder<Workbench>, workbench: Workbench, size: Vec2) -> Editor {
    let mut editor =
        builder.with_size(size).with_step_dt(1.0 / 60.0).renderer(CpuRenderer::default()).build_ui_state(
            |ui, workbench: &mut Workbench| {
                // The harness leaves a margin that a window does not have.
                let whole = egui::UiBuilder::new().max_rect(ui.ctx().content_rect());
                ui.scope_builder(whole, |ui| workbench.ui(ui));
            },
            workbench,
        );
    editor.set_render_cursor(false);
    editor.run_steps(3);
    editor
}

/// Shows a rack, such as `W1 rack 1`, in the rack face.
pub(crate) fn show_rack(editor: &mut Editor, rack: &str) {
    editor.get_by_label(&format!("{rack} in the train side")).click_accesskit();
    editor.run_steps(3);
}

/// Where the thing with this label lies.
pub(crate) fn rect_of(editor: &Editor, label: &str) -> Rect {
    editor.get_by_label(label).rect()
}

/// Presses at `from`, moves to `to` in steps, and keeps the button down.
pub(crate) fn press_and_move(editor: &mut Editor, from: Pos2, to: Pos2) {
    editor.hover_at(from);
    editor.step();
    editor.drag_at(from);
    editor.step();
    for step in 1..=6_u8 {
        editor.hover_at(from + (to - from) * (f32::from(step) / 6.0));
        editor.step();
    }
    editor.step();
}

/// Drags from `from` to `to` and lets go.
pub(crate) fn drag(editor: &mut Editor, from: Pos2, to: Pos2) {
    press_and_move(editor, from, to);
    editor.drop_at(to);
    editor.run_steps(3);
}

/// Presses a key and lets the editor settle.
pub(crate) fn key(editor: &mut Editor, key: egui::Key) {
    keys(editor, egui::Modifiers::NONE, key);
}

/// Presses a key with modifiers and lets the editor settle.
pub(crate) fn keys(editor: &mut Editor, modifiers: egui::Modifiers, key: egui::Key) {
    editor.key_press_modifiers(modifiers, key);
    editor.run_steps(2);
}

/// Gives the focus to the thing with this label.
pub(crate) fn focus(editor: &mut Editor, label: &str) {
    editor.get_by_label(label).focus();
    editor.run_steps(2);
}

/// The label of what has the focus.
pub(crate) fn focused(editor: &Editor) -> Option<String> {
    let node = editor.root().children_recursive().find(|node| node.is_focused())?;
    node.accesskit_node().label()
}

/// Where a string lies in the plan: tier, lane, front end in mm.
pub(crate) fn at(editor: &Editor, mark: &str) -> Option<(u32, u32, i64)> {
    placement(editor, mark).map(|placement| (placement.tier, placement.lane, placement.front.mm()))
}

/// The placement of a string in the plan.
pub(crate) fn placement<'a>(editor: &'a Editor, mark: &str) -> Option<&'a Placement> {
    editor.state().document().plan().placement(&crate::plans::mark(mark))
}

/// Writes a picture of the window to `target/shots/<name>.png` when `LONGSTOW_SHOTS` is set; for eyes only.
pub(crate) fn shot(editor: &mut Editor, name: &str) {
    if std::env::var_os("LONGSTOW_SHOTS").is_none() {
        return;
    }
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/shots");
    std::fs::create_dir_all(&folder).unwrap();
    editor.render().unwrap().save(folder.join(format!("{name}.png"))).unwrap();
}
