//! What the pages tell of: the plan with its figures, and how its things are named on paper.

use super::SheetOptions;
use super::table::Stress;
use crate::checks::{Assessment, Comparison, Outcome};
use crate::format::plan_hash;
use crate::model::{Hold, Plan, TrainEnd};
use crate::planning::Loaded;
use crate::report::finding_text::state_name;
use crate::statics::{Figures, PlacedString, StateFigures};
use crate::units::{Length, Quantity, Style};

/// Digits of the hash that stand on every page.
const SHORT_HASH: usize = 12;
/// What stands for a value that nobody entered.
pub(super) const NOT_ENTERED: &str = "–";

/// The plan with all that is known of it.
pub(super) struct Matter<'a> {
    pub(super) figures: &'a Figures,
    pub(super) assessment: &'a Assessment,
    pub(super) options: &'a SheetOptions,
    pub(super) style: Style,
    /// Hash of the plan in full.
    pub(super) hash: String,
    /// The load as it was recorded.
    pub(super) loaded: Loaded,
}

impl<'a> Matter<'a> {
    pub(super) fn new(figures: &'a Figures, assessment: &'a Assessment, options: &'a SheetOptions) -> Self {
        let (hash, loaded) = (plan_hash(&figures.plan), Loaded::of(&figures.plan));
        Self { figures, assessment, options, style: options.style, hash, loaded }
    }

    pub(super) fn plan(&self) -> &'a Plan {
        &self.figures.plan
    }

    /// The plan's title, or what stands for it.
    pub(super) fn title(&self) -> String {
        match self.plan().title.trim() {
            "" => "Plan without a title".to_owned(),
            title => title.to_owned(),
        }
    }

    /// The first digits of a hash.
    pub(super) fn short(hash: &str) -> String {
        hash.chars().take(SHORT_HASH).collect()
    }

    /// What the foot of every page says.
    pub(super) fn foot(&self) -> String {
        let hash = Self::short(&self.hash);
        format!("Longstow · plan {hash} · made {} · computed, not released", self.options.made_at)
    }

    /// The state whose loads stand beside those of departure: the one asked for, else the worst; none where that is
    /// departure itself.
    pub(super) fn beside(&self) -> Option<usize> {
        let worst = || self.assessment.worst_in_a_state().and_then(|finding| finding.state);
        self.options.state.or_else(worst).filter(|state| *state > 0 && self.figures.state(*state).is_some())
    }

    /// Departure, and the state beside it where there is one.
    pub(super) fn states_shown(&self) -> Vec<&'a StateFigures> {
        let states = [Some(0), self.beside()];
        states.into_iter().flatten().filter_map(|state| self.figures.state(state)).collect()
    }

    /// A state as a reader finds it again.
    pub(super) fn state_name(&self, state: usize) -> String {
        state_name(self.figures, state)
    }

    pub(super) fn mass(&self, kg: f64) -> String {
        Quantity::mass(kg).show(self.style)
    }

    pub(super) fn mass_number(&self, kg: f64) -> String {
        Quantity::mass(kg).show_number(self.style)
    }

    /// A mass, or what stands for one that nobody entered.
    pub(super) fn rating_number(&self, kg: Option<f64>) -> String {
        kg.map_or(NOT_ENTERED.to_owned(), |kg| self.mass_number(kg))
    }

    pub(super) fn length(&self, length: Length) -> String {
        Quantity::length(length).show(self.style)
    }

    pub(super) fn length_number(&self, length: Length) -> String {
        Quantity::length(length).show_number(self.style)
    }

    /// The sign of the unit of masses.
    pub(super) fn mass_sign(&self) -> &'static str {
        Quantity::mass(0.0).unit_sign(self.style)
    }

    /// The sign of the unit of lengths.
    pub(super) fn length_sign(&self) -> &'static str {
        Quantity::length_m(0.0).unit_sign(self.style)
    }

    /// Mark of a vehicle of the train.
    pub(super) fn vehicle(&self, vehicle: usize) -> String {
        let vehicle = self.plan().train.vehicles.get(vehicle);
        vehicle.map_or("?".to_owned(), |vehicle| vehicle.mark.to_string())
    }

    /// A rack of the consist, such as `W03 rack 2`.
    pub(super) fn rack(&self, rack: usize) -> String {
        match self.figures.consist.racks.get(rack) {
            Some(place) => format!("{} rack {}", self.vehicle(place.vehicle), place.number),
            None => "?".to_owned(),
        }
    }

    /// Mark of a placed string.
    pub(super) fn mark(&self, placed: &PlacedString) -> String {
        self.plan().order.get(placed.string).map_or("?".to_owned(), |string| string.mark.to_string())
    }

    /// Section of a placed string.
    pub(super) fn section(&self, placed: &PlacedString) -> String {
        self.plan().sections.get(placed.section).map_or("?".to_owned(), |section| section.name.to_string())
    }

    /// Tier and lane of a placed string, from 1.
    pub(super) fn pocket(&self, placed: &PlacedString) -> (u32, u32) {
        let placement = self.plan().placements.get(placed.placement);
        placement.map_or((0, 0), |placement| (placement.tier, placement.lane))
    }

    /// The drop that a placed string is for, as an index.
    pub(super) fn drop_of(&self, placed: &PlacedString) -> Option<usize> {
        let name = self.plan().order.get(placed.string)?.drop.as_ref()?;
        self.plan().drops.iter().position(|drop| drop.name == *name)
    }

    /// The holds of a placed string.
    pub(super) fn holds(&self, placed: &PlacedString) -> &'a [Hold] {
        self.plan().placements.get(placed.placement).map_or(&[], |placement| placement.holds.as_slice())
    }

    /// The holds in words, such as `W11 rack 2`.
    pub(super) fn holds_words(&self, holds: &[Hold]) -> String {
        let words: Vec<String> =
            holds.iter().map(|hold| format!("{} rack {}", hold.vehicle, hold.rack)).collect();
        if words.is_empty() { "none".to_owned() } else { words.join(", ") }
    }

    /// The racks that the ends of a string are measured from, front and rear: the outermost that it lies on, else the
    /// nearest of the train.
    pub(super) fn end_racks(&self, front: Length, rear: Length) -> Option<(usize, usize)> {
        let consist = &self.figures.consist;
        let crossed = consist.racks_between(front, rear);
        if !crossed.is_empty() {
            return Some((crossed.start, crossed.end - 1));
        }
        let nearest =
            |x: Length| (0..consist.racks.len()).min_by_key(|rack| (consist.racks[*rack].x - x).abs());
        Some((nearest(front)?, nearest(rear)?))
    }

    /// Where an end lies, such as `0.420 m in front of W03 rack 2`.
    pub(super) fn end_words(&self, front: Length, rear: Length, end: TrainEnd) -> String {
        let racks = self.end_racks(front, rear);
        let (x, rack) = match end {
            TrainEnd::Front => (front, racks.map(|(first, _)| first)),
            TrainEnd::Rear => (rear, racks.map(|(_, last)| last)),
        };
        match rack.and_then(|rack| Some((rack, self.figures.consist.racks.get(rack)?.x))) {
            Some((rack, at)) => self.beside_words(x - at, &self.rack(rack)),
            None => self.beside_words(x, "the front of the train"),
        }
    }

    /// `behind` as a distance behind or in front of something.
    fn beside_words(&self, behind: Length, what: &str) -> String {
        let distance = self.length(behind.abs());
        match behind.mm() {
            0 => format!("at {what}"),
            mm if mm < 0 => format!("{distance} in front of {what}"),
            _ => format!("{distance} behind {what}"),
        }
    }

    /// How a comparison stands out.
    pub(super) fn stress_of(&self, comparison: Comparison) -> Stress {
        match comparison.outcome(self.plan().limits.near_share()) {
            Outcome::Fail => Stress::Broken,
            Outcome::Near => Stress::Near,
            _ => Stress::None,
        }
    }

    /// A share of a limit, such as `87 %`.
    pub(super) fn used(&self, share: Option<f64>) -> String {
        match share {
            Some(share) if share.is_finite() => Quantity::share(share).show(self.style),
            Some(_) => "beyond".to_owned(),
            None => NOT_ENTERED.to_owned(),
        }
    }
}
