//! One placement worked out: the racks it crosses, its beam, what it puts on each rack.

use super::{Beam, BeamError, BeamFigures, Consist};
use crate::model::{MassEntry, OrderedString, Placement, Plan};
use crate::units::{Length, STANDARD_GRAVITY_M_S2};
use std::collections::HashMap;
use std::ops::Range;

/// Modulus of elasticity of a string without a steel, in GPa (see `OrderedString::steel`).
const DEFAULT_MODULUS_GPA: f64 = 210.0;

/// Why a placement has no beam figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// The beam itself: no support, or it tips.
    Beam(BeamError),
    /// A rack it crosses has no such tier or lane (index of the first such rack).
    NoPocket {
        /// Index into [`Consist::racks`](super::Consist::racks).
        rack: usize,
    },
}

/// A placement worked out by the level rigid model; it does not depend on what else is on the train.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedString {
    /// Index into `plan.placements`; equal to its own index.
    pub placement: usize,
    /// Index into `plan.order`.
    pub string: usize,
    /// Index into `plan.sections`.
    pub section: usize,
    /// x of the front end.
    pub front: Length,
    /// x of the rear end.
    pub rear: Length,
    /// Mass that the plan goes by, in kg (stated where stated, else computed).
    pub mass_kg: f64,
    /// Computed mass in kg.
    pub computed_mass_kg: f64,
    /// Racks it crosses, as a range of [`Consist::racks`](super::Consist::racks).
    pub racks: Range<usize>,
    /// y at each crossed rack in m (empty where a rack has no such lane).
    pub y_m: Vec<f64>,
    /// Height of its seat above the rail at each crossed rack in m; none where no deck height is entered.
    pub seat_m: Vec<Option<f64>>,
    /// Mass that each crossed rack carries of it, in kg; empty with trouble.
    pub carried_kg: Vec<f64>,
    /// Its beam figures.
    pub beam: Result<BeamFigures, Trouble>,
}

/// Works out every placement of `plan` on its train; like strings at one place are solved once.
pub(super) fn place_all(plan: &Plan, consist: &Consist) -> Vec<PlacedString> {
    let mut solved = HashMap::new();
    let strings = |placement: &Placement| plan.order.iter().position(|s| s.mark == placement.string);
    plan.placements
        .iter()
        .enumerate()
        .filter_map(|(index, placement)| {
            let string = strings(placement)?;
            let section = plan.sections.iter().position(|s| s.name == plan.order[string].section)?;
            let mut placed = PlacedString::laid(plan, consist, [index, string, section]);
            placed.solve(plan, consist, &mut solved);
            Some(placed)
        })
        .collect()
}

/// What a string's beam depends on: front and length, and the bits of weight and stiffness.
type BeamKey = (Length, Length, u64, u64);

impl PlacedString {
    /// The placement with the racks it crosses, not yet solved.
    fn laid(plan: &Plan, consist: &Consist, [index, string, section]: [usize; 3]) -> Self {
        let (placement, ordered) = (&plan.placements[index], &plan.order[string]);
        let (front, rear) = (placement.front, placement.front + ordered.length);
        let racks = consist.racks_between(front, rear);
        let computed_kg = plan.sections[section].mass_kg(ordered.length);
        let lane_y_m = |rack: usize| place_in(&consist.racks[rack].lanes_y_m, placement.lane).copied();
        Self {
            placement: index,
            string,
            section,
            front,
            rear,
            mass_kg: match ordered.mass {
                MassEntry::Computed => computed_kg,
                MassEntry::Stated { kg, .. } => kg,
            },
            computed_mass_kg: computed_kg,
            y_m: racks.clone().map(lane_y_m).collect::<Option<_>>().unwrap_or_default(),
            seat_m: racks.clone().map(|rack| seat_m(plan, consist, rack, placement.tier)).collect(),
            racks,
            carried_kg: Vec::new(),
            beam: Err(Trouble::Beam(BeamError::NoSupport)),
        }
    }

    fn solve(&mut self, plan: &Plan, consist: &Consist, solved: &mut HashMap<BeamKey, Solved>) {
        let placement = &plan.placements[self.placement];
        let no_pocket = self.racks.clone().find(|rack| {
            let rack = &consist.racks[*rack];
            let tiers = &plan.train.rack_types[rack.rack_type].tiers;
            place_in(&rack.lanes_y_m, placement.lane).is_none() || place_in(tiers, placement.tier).is_none()
        });
        if let Some(rack) = no_pocket {
            self.beam = Err(Trouble::NoPocket { rack });
            return;
        }
        let length = self.rear - self.front;
        let weight_n_per_m = self.mass_kg * STANDARD_GRAVITY_M_S2 / length.m();
        let stiffness_n_m2 =
            modulus_pa(plan, &plan.order[self.string]) * plan.sections[self.section].ix_cm4 * 1.0e-8;
        let key = (self.front, length, weight_n_per_m.to_bits(), stiffness_n_m2.to_bits());
        let solved = solved.entry(key).or_insert_with(|| {
            let supports_m: Vec<f64> =
                consist.racks[self.racks.clone()].iter().map(|rack| rack.x.m()).collect();
            let (front_m, rear_m) = (self.front.m(), self.rear.m());
            let beam = Beam { supports_m: &supports_m, front_m, rear_m, weight_n_per_m, stiffness_n_m2 };
            beam.solve()
        });
        self.beam = solved.clone().map_err(Trouble::Beam);
        if let Ok(beam) = &self.beam {
            self.carried_kg = beam.reactions_n.iter().map(|n| n / STANDARD_GRAVITY_M_S2).collect();
        }
    }
}

type Solved = Result<BeamFigures, BeamError>;

/// The item that people count as number `from_one`.
fn place_in<T>(items: &[T], from_one: u32) -> Option<&T> {
    items.get(usize::try_from(from_one.checked_sub(1)?).ok()?)
}

fn seat_m(plan: &Plan, consist: &Consist, rack: usize, tier: u32) -> Option<f64> {
    let rack = &consist.racks[rack];
    let deck = plan.train.vehicle_types[consist.vehicles[rack.vehicle].vehicle_type].deck_height?;
    let tier = place_in(&plan.train.rack_types[rack.rack_type].tiers, tier)?;
    Some(deck.m() + tier.seat_above_deck_mm / 1000.0)
}

fn modulus_pa(plan: &Plan, string: &OrderedString) -> f64 {
    let steel = string.steel.as_ref().and_then(|name| plan.steel(name));
    steel.map_or(DEFAULT_MODULUS_GPA, |steel| steel.modulus_gpa) * 1.0e9
}
