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
            let mut placed = PlacedString::laid(plan, consist, placement, [index, string, section]);
            placed.solve(plan, consist, placement, &mut solved);
            Some(placed)
        })
        .collect()
}

/// What a string's beam depends on: front and length, and the bits of weight and stiffness.
type BeamKey = (Length, Length, u64, u64);

impl PlacedString {
    /// The string alone, laid as `placement` says whether or not the plan has it there; none where the plan knows
    /// no such string.
    pub(super) fn alone(plan: &Plan, consist: &Consist, placement: &Placement) -> Option<Self> {
        let string = plan.order.iter().position(|string| string.mark == placement.string)?;
        let section = plan.sections.iter().position(|s| s.name == plan.order[string].section)?;
        let mut placed = Self::laid(plan, consist, placement, [usize::MAX, string, section]);
        placed.solve(plan, consist, placement, &mut HashMap::new());
        Some(placed)
    }

    /// The placement with the racks it crosses, not yet solved.
    fn laid(
        plan: &Plan,
        consist: &Consist,
        placement: &Placement,
        [index, string, section]: [usize; 3],
    ) -> Self {
        let ordered = &plan.order[string];
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

    fn solve(
        &mut self,
        plan: &Plan,
        consist: &Consist,
        placement: &Placement,
        solved: &mut HashMap<BeamKey, Solved>,
    ) {
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
        let (weight_n_per_m, stiffness_n_m2) = beam_of(plan, self);
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

/// Weight per length in N/m and E I about the horizontal axis in N m2 of a placed string.
pub(super) fn beam_of(plan: &Plan, placed: &PlacedString) -> (f64, f64) {
    let length = placed.rear - placed.front;
    let weight_n_per_m = placed.mass_kg * STANDARD_GRAVITY_M_S2 / length.m();
    let second_moment_m4 = plan.sections[placed.section].ix_cm4 * 1.0e-8;
    (weight_n_per_m, modulus_pa(plan, &plan.order[placed.string]) * second_moment_m4)
}

fn seat_m(plan: &Plan, consist: &Consist, rack: usize, tier: u32) -> Option<f64> {
    let rack = &consist.racks[rack];
    let deck = plan.train.vehicle_types[consist.vehicles[rack.vehicle].vehicle_type].deck_height?;
    let tier = place_in(&plan.train.rack_types[rack.rack_type].tiers, tier)?;
    Some(deck.m() + tier.seat_above_deck_mm / 1000.0)
}

/// Modulus of elasticity of a string in Pa; 210 GPa where it has no steel.
pub(super) fn modulus_pa(plan: &Plan, string: &OrderedString) -> f64 {
    let steel = string.steel.as_ref().and_then(|name| plan.steel(name));
    steel.map_or(DEFAULT_MODULUS_GPA, |steel| steel.modulus_gpa) * 1.0e9
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{empty_plan, place};
    use crate::model::{Source, StatedBasis, Steel, SteelName, Sureness};

    /// A string of 20 m on the racks of the middle wagon of three.
    fn plan() -> Plan {
        let mut plan = empty_plan(3);
        place(&mut plan, "S1", 20_000, (1, 1, 20_000));
        plan
    }

    fn placed(plan: &Plan) -> PlacedString {
        place_all(plan, &Consist::of(plan)).swap_remove(0)
    }

    #[test]
    fn a_placement_knows_its_racks_places_and_heights() {
        let placed = placed(&plan());
        assert_eq!(placed.racks, 3..6);
        assert_eq!(placed.y_m, [-1.2; 3]);
        assert_eq!(placed.seat_m, [Some(1.25 + 0.15); 3]);
        let carried_kg: f64 = placed.carried_kg.iter().sum();
        assert!((carried_kg - 20.0 * 60.21).abs() < 1.0e-9);
    }

    #[test]
    fn a_stated_mass_is_gone_by_and_the_computed_one_kept() {
        let mut plan = plan();
        plan.order[0].mass = MassEntry::Stated { kg: 1_300.0, basis: StatedBasis::Weighed };
        let placed = placed(&plan);
        assert!((placed.mass_kg - 1_300.0).abs() < 1.0e-12);
        assert!((placed.computed_mass_kg - 1_204.2).abs() < 1.0e-9);
        assert!((placed.carried_kg.iter().sum::<f64>() - 1_300.0).abs() < 1.0e-9);
    }

    #[test]
    fn a_rack_without_the_tier_or_lane_is_trouble() {
        for (tier, lane) in [(6, 1), (1, 11), (0, 1), (1, 0)] {
            let mut plan = plan();
            (plan.placements[0].tier, plan.placements[0].lane) = (tier, lane);
            let placed = placed(&plan);
            assert_eq!(placed.beam, Err(Trouble::NoPocket { rack: 3 }));
            assert!(placed.carried_kg.is_empty());
        }
    }

    #[test]
    fn a_string_between_racks_or_over_one_has_trouble() {
        let at = |front_mm, length_mm| {
            let mut plan = plan();
            plan.placements[0].front = Length::from_mm(front_mm);
            plan.order[0].length = Length::from_mm(length_mm);
            placed(&plan).beam.map(|_| ())
        };
        assert_eq!(at(0, 2_000), Err(Trouble::Beam(BeamError::NoSupport)));
        assert_eq!(at(2_000, 4_000), Err(Trouble::Beam(BeamError::Tips)));
        assert_eq!(at(2_000, 9_000), Ok(()));
    }

    #[test]
    fn a_deck_height_nobody_entered_leaves_the_seat_unknown() {
        let mut plan = plan();
        plan.train.vehicle_types[0].deck_height = None;
        assert_eq!(placed(&plan).seat_m, [None; 3]);
    }

    #[test]
    fn a_steel_sets_the_modulus_and_with_it_the_sag() {
        let sag_m = |modulus_gpa: Option<f64>| {
            let mut plan = plan();
            let name = SteelName::new("R260").unwrap();
            plan.steels.extend(modulus_gpa.map(|modulus_gpa| Steel {
                name: name.clone(),
                modulus_gpa,
                expansion_1e6_per_k: None,
                density_kg_per_m3: None,
                tensile_mpa: None,
                yield_mpa: None,
                handling_mpa: None,
                source: Source { text: "test".to_owned(), sure: Sureness::Entered },
            }));
            plan.order[0].steel = modulus_gpa.map(|_| name.clone());
            placed(&plan).beam.unwrap().spans[0].sag_m
        };
        assert!((sag_m(Some(210.0)) - sag_m(None)).abs() < 1.0e-15);
        assert!((sag_m(Some(105.0)) / sag_m(None) - 2.0).abs() < 1.0e-12);
    }
}
