//! Every offered size of text in a window of 1280 x 800: nothing runs under its neighbour or out of the window.

use crate::cpu_renderer::CpuRenderer;
use crate::harness::{Editor, editor_of_size, rect_of};
use crate::plans;
use egui::accesskit::Role;
use egui::{Color32, Rect, Theme, UiBuilder, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use image::Rgba;
use longstow::edit::OnDisk;
use longstow::gui::{Command, Pane, Request, SAMPLES, View, Workbench};
use longstow::model::Plan;

/// Shares of the usual size that the menu of sizes offers above it.
const SIZES: [f32; 4] = [1.0, 1.15, 1.3, 1.5];

fn sized(size: f32, view: View) -> Editor {
    sized_with(SAMPLES[0].plan().unwrap(), size, view)
}

fn sized_with(plan: Plan, size: f32, view: View) -> Editor {
    let mut editor = editor_of_size(plan, 1280.0 / size, 800.0 / size);
    editor.state_mut().ask(Request::Command(Command::Show(view)));
    editor.run_steps(12);
    editor
}

fn window(editor: &Editor) -> Rect {
    editor.ctx.content_rect()
}

/// Where the findings begin, or the window ends where they are put away.
fn right_end(editor: &Editor) -> f32 {
    let findings = editor.query_by_label("Search findings");
    findings.map_or(window(editor).right(), |search| search.rect().left())
}

#[test]
fn plots_lie_in_their_own_part_of_the_window_at_every_size() {
    for size in SIZES {
        let editor = sized(size, View::WhatIf);
        let most = right_end(&editor);
        let plots: Vec<Rect> =
            editor.query_all_by_label_contains("Plot of ").map(|plot| plot.rect()).collect();
        assert_eq!(plots.len(), 3, "{size}");
        for plot in plots {
            assert!(
                plot.right() <= most && plot.width() > 240.0 && plot.height() >= 50.0,
                "{size}: {plot:?} of {most}"
            );
        }
        for figure in editor.query_all_by_label_contains("How? ") {
            let rect = figure.rect();
            assert!(rect.right() <= most, "{size}: {rect:?} of {most}");
        }
    }
}

#[test]
fn a_narrow_window_puts_its_lists_away_from_the_views_that_take_the_middle() {
    for view in View::ALL {
        let editor = sized_with(plans::small(), 1.5, view);
        let of_the_train = matches!(view, View::TrainSide | View::DeckPlan);
        assert_eq!(editor.query_by_label("Search findings").is_some(), of_the_train, "{view:?}");
    }
    let wider = sized_with(plans::small(), 1.15, View::WhatIf);
    assert!(wider.query_by_label("Search findings").is_some());
    // They come back by their button, and by the way to the findings.
    let mut editor = sized_with(plans::small(), 1.5, View::RackWalk);
    editor.get_by_label("Lists at the sides").click_accesskit();
    editor.run_steps(4);
    assert!(editor.query_by_label("Search findings").is_some());
    editor.get_by_label("Lists at the sides").click_accesskit();
    editor.run_steps(4);
    assert!(editor.query_by_label("Search findings").is_none());
    editor.state_mut().ask(Request::Command(Command::GoTo(Pane::Findings)));
    editor.run_steps(4);
    assert!(editor.query_by_label("Search findings").is_some());
}

/// In a window whose points are no whole pixels, panels end between two of them.
#[test]
fn no_gap_between_panels_shows_what_lies_under_the_window() {
    for size in [1.15, 1.3] {
        let mut editor = Harness::builder()
            .with_size(Vec2::new(1280.0, 800.0) / size)
            .with_pixels_per_point(size)
            .with_theme(Theme::Light)
            .renderer(CpuRenderer::default())
            .build_ui_state(
                |ui, workbench: &mut Workbench| {
                    let window = ui.ctx().content_rect();
                    ui.painter().rect_filled(window, 0.0, Color32::GREEN);
                    ui.scope_builder(UiBuilder::new().max_rect(window), |ui| workbench.ui(ui));
                },
                Workbench::new(plans::small(), OnDisk::Yes),
            );
        editor.set_render_cursor(false);
        editor.run_steps(4);
        let picture = editor.render().unwrap();
        // No colour of the window's own is as green, even where half of the ground shines through.
        let is_ground = |pixel: &Rgba<u8>| {
            let [red, green, blue, _] = pixel.0.map(i16::from);
            green - red.max(blue) > 60
        };
        let gap = picture.enumerate_pixels().find(|(_, _, pixel)| is_ground(pixel));
        assert_eq!(gap, None, "{size}");
    }
}

#[test]
fn the_figures_of_the_details_are_not_cut_at_any_size() {
    for size in SIZES {
        let editor = sized(size, View::TrainSide);
        let details = rect_of(&editor, "Load now");
        let tabs = editor.query_all_by_label(View::TrainSide.title()).next().unwrap().rect();
        let row = Rect::from_x_y_ranges(details.right()..=tabs.left(), details.y_range());
        let mut labels = editor.query_all_by_role(Role::Label).map(|label| label.rect());
        let value = labels.find(|rect| row.intersects(rect.shrink(2.0))).unwrap();
        assert!(
            value.right() < tabs.left() && value.size().min(vec2(20.0, 5.0)) == vec2(20.0, 5.0),
            "{size}: {value:?}"
        );
    }
}
