//! What shapes look like: colours of the theme by role, and patterns, so that nothing is told by colour alone.

use crate::checks::Outcome;
use crate::drawing::{Role, Thing};
use crate::gui::{Role as Ink, Shown, Theme};
use egui::Color32;
use std::collections::BTreeSet;

/// What lies over a fill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pattern {
    /// Nothing.
    Plain,
    /// A line along the middle.
    Stripe,
    /// Upright ticks so many points apart.
    Ticks(f32),
    /// Slanting strokes so many points apart.
    Hatch(f32),
}

/// How a shape is painted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// Fill of boxes and outlines.
    pub fill: Color32,
    /// Edge of boxes and outlines.
    pub edge: Color32,
    /// Its width in points; 0 for none.
    pub edge_width: f32,
    /// What lies over the fill.
    pub pattern: Pattern,
    /// Its colour.
    pub pattern_color: Color32,
    /// Whether the edge must show however small the shape is.
    pub emphasised: bool,
    /// Whether it is kept a hair apart from its neighbours where it is too thin for an edge.
    pub gap: bool,
}

impl Look {
    /// A fill and nothing else.
    pub fn plain(fill: Color32) -> Self {
        Self {
            fill,
            edge: fill,
            edge_width: 0.0,
            pattern: Pattern::Plain,
            pattern_color: fill,
            emphasised: false,
            gap: false,
        }
    }

    /// Colour of lines and words.
    pub fn line(&self) -> Color32 {
        if self.edge_width > 0.0 { self.edge } else { self.fill }
    }

    /// Width of lines in points.
    pub fn line_width(&self) -> f32 {
        self.edge_width.max(1.0)
    }

    fn edged(self, edge: Color32, edge_width: f32) -> Self {
        Self { edge, edge_width, ..self }
    }

    fn patterned(self, pattern: Pattern, pattern_color: Color32) -> Self {
        Self { pattern, pattern_color, ..self }
    }
}

/// The colours of strings by drop, light and dark, and the pattern that tells each without colour.
const DROPS: [(u32, u32, Pattern); 6] = [
    (0x5B_93_BC, 0x4F_86_AE, Pattern::Plain),
    (0xDB_A6_3C, 0xB0_7F_22, Pattern::Stripe),
    (0x4D_A8_8B, 0x2F_86_6A, Pattern::Ticks(9.0)),
    (0xC3_8F_B4, 0x96_62_87, Pattern::Hatch(9.0)),
    (0xA9_B2_4E, 0x7D_86_2B, Pattern::Ticks(21.0)),
    (0x8F_B9_D9, 0x6B_7C_A6, Pattern::Hatch(20.0)),
];

/// The look of strings for a drop (by index); strings for no drop are grey.
pub fn drop_look(theme: &Theme, drop: Option<usize>) -> Look {
    let rgb = |rgb: u32| Color32::from_rgb((rgb >> 16) as u8, (rgb >> 8) as u8, rgb as u8);
    let ink = theme.color(Ink::Text).gamma_multiply(0.55);
    let look = match drop {
        None => Look::plain(mix(theme.color(Ink::Off), theme.color(Ink::Canvas), 0.3)),
        Some(drop) => {
            let (light, dark, pattern) = DROPS[drop % DROPS.len()];
            Look::plain(rgb(if theme.dark { dark } else { light })).patterned(pattern, ink)
        }
    };
    Look { gap: true, ..look.edged(theme.color(Ink::Canvas), 1.0) }
}

/// The looks of everything in a frame.
#[derive(Debug)]
pub(super) struct Looks<'a> {
    theme: &'a Theme,
    selected: BTreeSet<Thing>,
    failing: BTreeSet<Thing>,
    /// Where the finding shown is; of a bogie, its axles as well.
    pointed: Vec<Thing>,
}

impl<'a> Looks<'a> {
    /// What is selected, fails in the state shown, or is the place of the finding shown.
    pub(super) fn of_shown(shown: &Shown<'a>) -> Self {
        let order = &shown.plan.order;
        let mut selected: BTreeSet<Thing> = (0..order.len())
            .filter(|index| shown.selection.strings.contains(&order[*index].mark))
            .map(Thing::String)
            .collect();
        selected.extend(shown.selection.vehicle.map(Thing::Vehicle));
        let findings = &shown.assessment.findings;
        let failing = findings
            .iter()
            .filter(|finding| finding.outcome == Outcome::Fail)
            .filter(|finding| finding.states.is_empty() || finding.states.contains(&shown.state))
            .filter_map(|finding| Thing::of_subject(finding.subject))
            .collect();
        let key = shown.selection.finding.as_ref();
        let finding = findings.iter().find(|finding| key.is_some_and(|key| key.is_of(finding)));
        let place = finding.and_then(|finding| Thing::of_subject(finding.subject));
        let pointed = place.into_iter().flat_map(|thing| with_axles(thing, shown)).collect();
        Self { theme: shown.theme, selected, failing, pointed }
    }

    /// Shows the rack of the rack face as selected too.
    pub(super) fn with_rack(mut self, rack: usize) -> Self {
        self.selected.insert(Thing::Rack(rack));
        self
    }

    /// Whether `thing` must be seen above others.
    pub(super) fn is_emphasised(&self, thing: Option<Thing>) -> bool {
        thing.is_some_and(|thing| {
            self.pointed.contains(&thing)
                || (matches!(thing, Thing::String(_) | Thing::StringEnd(..))
                    && self.selected.contains(&thing))
        })
    }

    /// What words about `thing` stand on, where what lies under them is not plain.
    pub(super) fn plate(&self, thing: Option<Thing>) -> Option<Color32> {
        let canvas = self.theme.color(Ink::Canvas);
        match thing {
            Some(Thing::String(_)) => Some(canvas.gamma_multiply(0.8)),
            // The mark of a short vehicle stands over its bogies.
            Some(Thing::Vehicle(_)) => Some(canvas),
            _ => None,
        }
    }

    /// The look of a shape.
    pub(super) fn of(&self, role: Role, thing: Option<Thing>) -> Look {
        let base = self.base(role);
        let Some(thing) = thing else { return base };
        let color = |ink| self.theme.color(ink);
        let mut look = base;
        let drawn_string = matches!(role, Role::String(_) | Role::Overhang(_) | Role::StringInTrouble);
        if drawn_string && self.failing.contains(&thing) {
            look = look.patterned(Pattern::Hatch(5.0), color(Ink::Fail)).edged(color(Ink::Fail), 1.0);
        }
        let chosen = drawn_string || matches!(role, Role::WagonBody | Role::IdlerBody | Role::EngineBody);
        if chosen && self.selected.contains(&thing) {
            look = Look { emphasised: true, ..look.edged(color(Ink::SelectedEdge), 2.0) };
        }
        if matches!(role, Role::Rack | Role::RackCarrying) && self.selected.contains(&thing) {
            look = Look::plain(color(Ink::Accent));
        }
        if self.pointed.contains(&thing) && role != Role::Label && role != Role::Figure {
            look = Look { emphasised: true, ..look.edged(color(Ink::Fail), 2.0) };
        }
        look
    }

    fn base(&self, role: Role) -> Look {
        let color = |ink| self.theme.color(ink);
        match role {
            Role::Rail | Role::CentreLine => Look::plain(color(Ink::Line)),
            Role::WagonBody => Look::plain(color(Ink::Vehicle)),
            Role::IdlerBody => Look::plain(color(Ink::Faint)).edged(color(Ink::Vehicle), 1.0),
            Role::EngineBody => Look::plain(color(Ink::Gear)),
            Role::Bogie | Role::Coupling => Look::plain(color(Ink::Vehicle)),
            Role::Headstock | Role::Wheel => Look::plain(color(Ink::Gear)),
            Role::Lane => Look::plain(mix(color(Ink::Line), color(Ink::Vehicle), 0.4)),
            Role::Rack => Look::plain(color(Ink::Line)),
            Role::RackCarrying => Look::plain(color(Ink::Rack)),
            Role::Seat => Look::plain(color(Ink::Line)),
            Role::EndStop => Look::plain(color(Ink::Text)).edged(color(Ink::Text), 2.0),
            Role::String(drop) => drop_look(self.theme, drop),
            Role::Overhang(drop) => {
                let look = drop_look(self.theme, drop);
                Look { fill: mix(look.fill, color(Ink::Canvas), 0.45), ..look }
            }
            Role::StringInTrouble => Look::plain(mix(color(Ink::Fail), color(Ink::Canvas), 0.65))
                .patterned(Pattern::Hatch(5.0), color(Ink::Fail))
                .edged(color(Ink::Fail), 1.0),
            Role::StringEnd => Look::plain(color(Ink::Text)),
            Role::CreepRange => Look::plain(color(Ink::WeakText)),
            Role::Swing => Look::plain(color(Ink::Accent)).edged(color(Ink::Accent), 2.0),
            Role::Unchanged => {
                Look { gap: true, ..Look::plain(mix(color(Ink::Off), color(Ink::Canvas), 0.72)) }
            }
            Role::Former => Look::plain(color(Ink::Text)).edged(color(Ink::Text), 1.2),
            Role::Shift => Look::plain(color(Ink::Accent)).edged(color(Ink::Accent), 1.5),
            Role::FormerLoad => Look::plain(color(Ink::Text)).edged(color(Ink::Text), 1.5),
            Role::Hold => Look::plain(color(Ink::Hold)),
            Role::PocketEmpty => Look::plain(color(Ink::Line)),
            Role::PocketTaken => Look::plain(color(Ink::Origin)),
            Role::LoadBar(outcome) => self.load_bar(outcome),
            Role::LoadRoom(_) => Look::plain(color(Ink::Faint)),
            Role::RatingTick => Look::plain(color(Ink::Text)),
            Role::SpringsMark(outcome) => match outcome {
                Outcome::Fail => Look::plain(color(Ink::Fail)).edged(color(Ink::Fail), 2.5),
                _ => Look::plain(color(Ink::Accent)).edged(color(Ink::Accent), 2.0),
            },
            Role::ToleranceBand => Look::plain(color(Ink::WeakText)).edged(color(Ink::WeakText), 1.0),
            Role::Balance(_, outcome) => self.load_bar(outcome),
            Role::CentreOfGravity => {
                Look { pattern_color: color(Ink::Canvas), ..Look::plain(color(Ink::Text)) }
            }
            Role::GaugeLine => Look::plain(color(Ink::Note)).edged(color(Ink::Note), 1.0),
            Role::OutOfGauge => Look::plain(mix(color(Ink::Fail), color(Ink::Canvas), 0.3))
                .patterned(Pattern::Hatch(4.0), color(Ink::Fail))
                .edged(color(Ink::Fail), 1.5),
            Role::Label => Look::plain(color(Ink::Text)),
            Role::Figure => Look::plain(color(Ink::Text)),
        }
    }

    fn load_bar(&self, outcome: Outcome) -> Look {
        let color = |ink| self.theme.color(ink);
        let soft = |ink| mix(color(ink), color(Ink::Canvas), 0.35);
        match outcome {
            Outcome::Fail => Look::plain(color(Ink::Fail)).patterned(Pattern::Hatch(4.0), color(Ink::Canvas)),
            Outcome::Near => Look::plain(color(Ink::Near)).patterned(Pattern::Stripe, color(Ink::Canvas)),
            Outcome::Undecided => Look::plain(soft(Ink::Undecided)).edged(color(Ink::Undecided), 1.0),
            _ => Look::plain(soft(Ink::Pass)),
        }
    }
}

/// A thing, and of a support the axles under it: not every picture shows both.
fn with_axles(thing: Thing, shown: &Shown<'_>) -> Vec<Thing> {
    let mut things = vec![thing];
    if let Thing::Support { vehicle, support } = thing
        && let Some(place) = shown.figures.consist.vehicles.get(vehicle)
    {
        let each = place.axles_per_support.max(1) as usize;
        things.extend((support * each..(support + 1) * each).map(|axle| Thing::Axle { vehicle, axle }));
    }
    things
}

/// `share` of `other` in `color`.
pub fn mix(color: Color32, other: Color32, share: f32) -> Color32 {
    let blend = |a: u8, b: u8| (f32::from(a) * (1.0 - share) + f32::from(b) * share).round() as u8;
    Color32::from_rgb(blend(color.r(), other.r()), blend(color.g(), other.g()), blend(color.b(), other.b()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbouring_drops_differ_in_colour_and_in_pattern() {
        for theme in [Theme::LIGHT, Theme::DARK] {
            for drop in 0..DROPS.len() {
                let (one, next) = (drop_look(&theme, Some(drop)), drop_look(&theme, Some(drop + 1)));
                assert_ne!(one.fill, next.fill);
                assert_ne!(one.pattern, next.pattern);
            }
        }
    }

    #[test]
    fn broken_near_and_undecided_loads_differ_without_colour() {
        let looks = Looks {
            theme: &Theme::LIGHT,
            selected: BTreeSet::new(),
            failing: BTreeSet::new(),
            pointed: Vec::new(),
        };
        let marks = [Outcome::Fail, Outcome::Near, Outcome::Undecided, Outcome::Pass].map(|outcome| {
            let look = looks.of(Role::LoadBar(outcome), None);
            (std::mem::discriminant(&look.pattern), look.edge_width > 0.0)
        });
        for (index, mark) in marks.iter().enumerate() {
            assert!(!marks[..index].contains(mark), "{index}");
        }
    }
}
