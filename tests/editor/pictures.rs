//! Pictures of the editor, written for eyes when `LONGSTOW_SHOTS` is set; what they must show is asserted.

use crate::harness::{editor, editor_of_size, rect_of, shot};
use crate::plans;
use egui_kittest::kittest::Queryable as _;

#[test]
fn the_whole_of_a_long_train_is_shown_with_every_string_in_reach() {
    let mut editor = editor(plans::long());
    for string in 1..=50 {
        let rect = rect_of(&editor, &format!("string S{string:02} in the train side"));
        assert!(rect.width() > 400.0 && rect.height() >= 1.0, "S{string:02}: {rect}");
    }
    shot(&mut editor, "long-light");
    editor.ctx.set_theme(egui::Theme::Dark);
    editor.run_steps(3);
    shot(&mut editor, "long-dark");
}

#[test]
fn a_small_train_is_shown_in_a_large_window() {
    let mut editor = editor_of_size(plans::small(), 2560.0, 1440.0);
    assert!(editor.query_by_label("string A in the train side").is_some());
    assert!(editor.query_by_label("tier 1 lane 3: A").is_some());
    shot(&mut editor, "small-large");
}
