//! The sizes that the user gave to panels, and whether train side and deck plan are shown together; kept between
//! sessions.

use super::views::View;
use egui::{Context, Id, Panel, Rect};
use std::collections::BTreeMap;

/// From this height of the window on, in points, train side and deck plan are shown together by themselves.
const BOTH_FROM_POINTS: f32 = 1_100.0;
/// What the settings of panes begin with, and that of both drawings.
const PREFIX: &str = "pane ";
const BOTH: &str = "both drawings";
/// What the choice of the panes at the sides is kept under: with a view of the train, with another view.
const SIDES: [&str; 2] = ["sides of the train", "sides of other views"];
/// In a window narrower than this, in points, panes at both sides leave a view that takes all of the middle no room.
const SIDES_FROM_POINTS: f32 = 1_000.0;
/// The most sizes that are kept: no window makes more, and a file that names more is not ours.
const MOST: usize = 100;
/// How far the size that a panel follows must change before the panel does, in points.
const STEP_POINTS: f32 = 40.0;
/// Sizes in points that leave room for something.
const SIZES: std::ops::RangeInclusive<f32> = 40.0..=4_000.0;

/// A panel that the user can resize.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pane {
    /// What it is called in the settings, the same for ever.
    pub name: &'static str,
    /// Which edge of its surroundings it lies at.
    pub edge: Edge,
    /// The least size that it can be given, in points.
    pub least: f32,
}

/// An edge that a panel lies at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Edge {
    /// The left one.
    Left,
    /// The right one.
    Right,
    /// The lower one.
    Lower,
}

/// What the user chose.
#[derive(Clone, Debug, Default)]
pub(super) struct Panes {
    /// By name and kind of window, in points.
    sizes: BTreeMap<String, f32>,
    /// The sizes of the frame before.
    drawn: BTreeMap<String, f32>,
    /// Sizes that the pointer is giving, kept once its button is let go.
    given: BTreeMap<String, f32>,
    /// Whether train side and deck plan are shown together; none: where the window is high enough.
    both: Option<bool>,
    /// Whether a narrow window has its panes at the sides, by [`SIDES`]; none: with views of the train alone.
    sides: [Option<bool>; 2],
}

impl Panes {
    /// Whether the window is so narrow that the panes at its sides can be put away.
    pub(super) fn is_narrow(ctx: &Context) -> bool {
        ctx.content_rect().width() < SIDES_FROM_POINTS
    }

    /// Whether yard list, details and findings are shown at the sides of `view`.
    pub(super) fn shows_sides(&self, ctx: &Context, view: View) -> bool {
        let of_the_train = view.is_of_the_train();
        !Self::is_narrow(ctx) || self.sides[usize::from(!of_the_train)].unwrap_or(of_the_train)
    }

    /// Chooses whether a narrow window shows them.
    pub(super) fn show_sides(&mut self, view: View, shown: bool) {
        self.sides[usize::from(!view.is_of_the_train())] = Some(shown);
    }

    /// Whether train side and deck plan are shown together.
    pub(super) fn shows_both(&self, ctx: &Context) -> bool {
        self.both.unwrap_or(ctx.content_rect().height() >= BOTH_FROM_POINTS)
    }

    /// Chooses whether they are.
    pub(super) fn show_both(&mut self, both: bool) {
        self.both = Some(both);
    }

    /// The panel, as large as the user left it in a window of this kind, else `size` points.
    pub(super) fn panel(&self, ctx: &Context, pane: Pane, size: f32) -> Panel {
        let name = pane.in_window(ctx);
        let size = self.sizes.get(&name).copied().unwrap_or(size);
        pane.panel(Id::unique(name), size)
    }

    /// The panel as [`panel`](Self::panel); until the user gave it a size it follows `size` in steps.
    pub(super) fn following_panel(&self, ctx: &Context, pane: Pane, size: f32) -> Panel {
        let name = pane.in_window(ctx);
        match self.sizes.get(&name) {
            Some(given) => pane.panel(Id::unique(name), *given),
            None => pane.panel(Id::unique((name, (size / STEP_POINTS) as i32)), size),
        }
    }

    /// Takes note of where a panel was drawn: what the pointer makes larger or smaller is remembered.
    pub(super) fn drawn(&mut self, ctx: &Context, pane: Pane, rect: Rect) {
        let size = if pane.edge == Edge::Lower { rect.height() } else { rect.width() };
        let name = pane.in_window(ctx);
        let before = self.drawn.insert(name.clone(), size).unwrap_or(size);
        let dragged = ctx.input(|input| input.pointer.primary_down());
        if dragged && (size - before).abs() > 0.5 && SIZES.contains(&size) && self.sizes.len() < MOST {
            self.given.insert(name, size.round());
        } else if !dragged {
            self.sizes.append(&mut self.given);
        }
    }

    /// What is to be kept in the settings.
    pub(super) fn settings(&self) -> Vec<(String, String)> {
        let sizes = self.sizes.iter().map(|(name, size)| (format!("{PREFIX}{name}"), size.to_string()));
        let both = self.both.map(|both| (BOTH.to_owned(), both.to_string()));
        let sides = SIDES
            .iter()
            .zip(self.sides)
            .filter_map(|(name, sides)| Some(((*name).to_owned(), sides?.to_string())));
        sizes.chain(both).chain(sides).collect()
    }

    /// What settings hold of it; what cannot be read is passed over.
    pub(super) fn of_settings(settings: &[(String, String)]) -> Self {
        let mut panes = Self::default();
        for (name, value) in settings {
            if name == BOTH {
                panes.both = value.parse().ok();
            } else if let Some(at) = SIDES.iter().position(|own| own == name) {
                panes.sides[at] = value.parse().ok();
            } else if let (Some(name), Ok(size)) = (name.strip_prefix(PREFIX), value.parse::<f32>())
                && SIZES.contains(&size)
                && panes.sizes.len() < MOST
            {
                panes.sizes.insert(name.to_owned(), size);
            }
        }
        panes
    }
}

impl Pane {
    fn panel(self, id: Id, size: f32) -> Panel {
        let panel = match self.edge {
            Edge::Left => Panel::left(id),
            Edge::Right => Panel::right(id),
            Edge::Lower => Panel::bottom(id),
        };
        panel.resizable(true).default_size(size).min_size(self.least)
    }

    /// Its name with the kind of window: another size of window is another arrangement.
    fn in_window(&self, ctx: &Context) -> String {
        let window = ctx.content_rect().size();
        format!("{} {}x{}", self.name, (window.x / 320.0) as i32, (window.y / 200.0) as i32)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_come_back_and_what_leaves_no_room_does_not() {
        let kept = |settings: &[(&str, &str)]| {
            let settings: Vec<_> =
                settings.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect();
            let panes = Panes::of_settings(&settings);
            assert_eq!(Panes::of_settings(&panes.settings()).settings(), panes.settings());
            panes.settings().len()
        };
        assert_eq!(kept(&[("pane left 4x4", "246"), (BOTH, "false"), ("colours", "dark")]), 2);
        for size in ["0", "39", "4001", "NaN", "wide"] {
            assert_eq!(kept(&[("pane left 4x4", size)]), 0, "{size}");
        }
        assert_eq!(kept(&[(SIDES[0], "false"), (SIDES[1], "true")]), 2);
        assert_eq!(kept(&[("pane left 4x4", "40"), ("pane right 4x4", "4000"), (BOTH, "perhaps")]), 2);
    }
}
