//! Every single thing that may be otherwise than the plan has it, each with what it would do to the readings.

use super::evidence::Evidence;
use super::explain::Explanation;
use super::room::{Room, most_lanes, most_tiers};
use super::shift::best_shift;
use crate::model::{OrderedString, Placement, Plan};
use crate::statics::{StringOnVehicle, tare_per_kg};
use crate::units::Length;
use std::collections::BTreeSet;

/// One thing that is otherwise than the plan has it. Strings are indices into the order, vehicles into the train.
#[derive(Clone, Debug, PartialEq)]
pub enum Cause {
    /// A string lies in another lane, its ends where they are planned.
    Lane {
        /// The string.
        string: usize,
        /// The lane that it lies in, from 1.
        lane: u32,
        /// The tiers in which that lane is free there, from 1; readings cannot tell them apart.
        tiers: Vec<u32>,
    },
    /// A string lies farther along its pocket.
    Shifted {
        /// The string.
        string: usize,
        /// By how much, positive rearward; fitted.
        by: Length,
    },
    /// A string is not on the train.
    Missing {
        /// The string.
        string: usize,
    },
    /// Two strings lie in each other's places, their front ends exchanged too.
    Exchanged {
        /// One of the two.
        first: usize,
        /// The other.
        second: usize,
    },
    /// A string that the plan leaves in the yard lies in the place of one that it loads.
    Replaced {
        /// The string that the plan has there.
        string: usize,
        /// The one that lies there.
        by: usize,
    },
    /// A string's mass is another.
    Mass {
        /// The string.
        string: usize,
        /// The true mass over the plan's; fitted, from 0.5 to 2.
        factor: f64,
    },
    /// A vehicle's tare is another.
    Tare {
        /// The vehicle.
        vehicle: usize,
        /// The true tare less the plan's in kg; fitted, up to half of the plan's either way.
        by_kg: f64,
    },
    /// A reading is wrong, and all others are right.
    Reading {
        /// Its index among the plan's readings.
        reading: usize,
        /// What it should read, in kg.
        expected_kg: f64,
    },
}

/// A string's mass may be wrong by up to this factor either way; beyond it the string is another one or missing.
/// Common practice, no source.
const MOST_MASS_FACTOR: f64 = 2.0;

/// A tare may be wrong by up to this share of it either way: beyond it the vehicle is another one, or the reading is
/// wrong. Common practice, no source.
const MOST_TARE_SHARE: f64 = 0.5;

/// A change whose size is below this is seen by no reading.
const UNSEEN: f64 = 1.0e-6;

impl Cause {
    /// How many numbers were fitted to the readings for it.
    pub fn fitted_numbers(&self) -> usize {
        match self {
            Self::Lane { .. } | Self::Missing { .. } | Self::Exchanged { .. } | Self::Replaced { .. } => 0,
            Self::Shifted { .. } | Self::Mass { .. } | Self::Tare { .. } | Self::Reading { .. } => 1,
        }
    }
}

/// The causes tried so far.
pub(super) struct Search<'a> {
    evidence: &'a Evidence<'a>,
    room: Room,
    /// Strings on the train before departure, each once: index into the order, index of its placement, what it puts
    /// on the parts that were read.
    lying: Vec<Lying>,
    pub(super) found: Vec<Explanation>,
    /// How many were tried, seen by the readings or not.
    pub(super) tried: usize,
}

struct Lying {
    string: usize,
    placement: usize,
    effect_kg: Vec<f64>,
}

impl<'a> Search<'a> {
    /// A search before its first cause.
    pub(super) fn of(evidence: &'a Evidence<'a>) -> Self {
        let figures = &evidence.weighed.figures;
        let mut seen = BTreeSet::new();
        let lying = figures.present(0).filter(|placed| seen.insert(placed.string)).map(|placed| {
            let placement = &figures.plan.placements[placed.placement];
            // A string that its racks cannot carry puts nothing on them in the figures either.
            let nothing = || vec![0.0; evidence.judged.len()];
            Lying {
                string: placed.string,
                placement: placed.placement,
                effect_kg: evidence.of_string(placement).unwrap_or_else(nothing),
            }
        });
        let lying = lying.collect();
        Self { evidence, room: Room::of(figures), lying, found: Vec::new(), tried: 0 }
    }

    /// How many strings there are to ask about.
    pub(super) fn strings(&self) -> usize {
        self.lying.len()
    }

    fn plan(&self) -> &'a Plan {
        &self.evidence.weighed.figures.plan
    }

    /// Tries everything that may be otherwise with string number `at` of those on the train.
    pub(super) fn try_string(&mut self, at: usize) {
        let own = &self.lying[at];
        let (string, placement) = (own.string, &self.plan().placements[own.placement]);
        let away: Vec<f64> = own.effect_kg.iter().map(|kg| -kg).collect();
        let (whole, index) = (own.effect_kg.clone(), own.placement);
        self.tell(Cause::Missing { string }, away);
        self.try_mass(string, whole);
        self.try_lanes(at, placement);
        let (shifts, best) =
            best_shift(self.evidence, placement, self.room.along(index), &self.lying[at].effect_kg);
        self.tried += shifts;
        if let Some((by, effect_kg)) = best {
            self.tell(Cause::Shifted { string, by }, effect_kg);
        }
        self.try_others(at, placement);
    }

    /// Tries all vehicles' tares and all readings.
    pub(super) fn try_tares_and_readings(&mut self) {
        let figures = &self.evidence.weighed.figures;
        for (vehicle, place) in figures.consist.vehicles.iter().enumerate() {
            let mut per_kg = vec![0.0; self.evidence.judged.len()];
            let on = StringOnVehicle { vehicle, load_kg: 1.0, supports: tare_per_kg(place) };
            self.evidence.add(&on, &mut per_kg);
            let tare_kg = place.tare_kg[0] + place.tare_kg[1];
            let most_kg = MOST_TARE_SHARE * tare_kg;
            let by_kg = self.evidence.best_factor(&per_kg).clamp(-most_kg, most_kg);
            self.tell(Cause::Tare { vehicle, by_kg }, scaled(per_kg, by_kg));
        }
        for (place, reading) in self.evidence.judged.iter().copied().enumerate() {
            let mut effect_kg = vec![0.0; self.evidence.judged.len()];
            effect_kg[place] = self.evidence.difference_kg(place);
            let expected_kg = self.evidence.weighed.readings[reading].computed_kg;
            self.tell(Cause::Reading { reading, expected_kg }, effect_kg);
        }
    }

    fn try_mass(&mut self, string: usize, whole: Vec<f64>) {
        let factor =
            (1.0 + self.evidence.best_factor(&whole)).clamp(1.0 / MOST_MASS_FACTOR, MOST_MASS_FACTOR);
        self.tell(Cause::Mass { string, factor }, scaled(whole, factor - 1.0));
    }

    fn try_lanes(&mut self, at: usize, placement: &Placement) {
        let string = self.lying[at].string;
        let ends = self.ends(string, placement.front);
        for lane in (1..=most_lanes(self.plan())).filter(|lane| *lane != placement.lane) {
            let free = |tier: &u32| self.room.is_free((*tier, lane), ends, &[]);
            let tiers: Vec<u32> = (1..=most_tiers(self.plan())).filter(free).collect();
            let Some(tier) = tiers.first().copied() else { continue };
            let instead = Placement { tier, lane, ..placement.clone() };
            self.try_instead(&[(at, instead)], Cause::Lane { string, lane, tiers });
        }
    }

    /// Tries the place of string `at` with each other string that differs from it, from the train or the yard.
    fn try_others(&mut self, at: usize, placement: &Placement) {
        let plan = self.plan();
        let string = self.lying[at].string;
        for other in at + 1..self.lying.len() {
            let (second, their) = (self.lying[other].string, &self.lying[other]);
            let theirs = &plan.placements[their.placement];
            let both = [self.lying[at].placement, their.placement];
            let fits = |string: usize, place: &Placement| {
                self.room.is_free((place.tier, place.lane), self.ends(string, place.front), &both)
            };
            if alike(&plan.order[string], &plan.order[second])
                || !fits(string, theirs)
                || !fits(second, placement)
            {
                continue;
            }
            let of_first = Placement { string: placement.string.clone(), ..theirs.clone() };
            let of_second = Placement { string: theirs.string.clone(), ..placement.clone() };
            let cause = Cause::Exchanged { first: string, second };
            self.try_instead(&[(at, of_first), (other, of_second)], cause);
        }
        let in_yard = plan.order.iter().enumerate().filter(|(_, one)| plan.placement(&one.mark).is_none());
        for (by, one) in in_yard {
            let pocket = (placement.tier, placement.lane);
            let without = [self.lying[at].placement];
            let free = self.room.is_free(pocket, self.ends(by, placement.front), &without);
            if free && !alike(&plan.order[string], one) {
                let instead = Placement { string: one.mark.clone(), ..placement.clone() };
                self.try_instead(&[(at, instead)], Cause::Replaced { string, by });
            }
        }
    }

    /// Tries a load in which each of some strings gives way to what is said to lie there instead.
    fn try_instead(&mut self, instead: &[(usize, Placement)], cause: Cause) {
        let mut effect_kg = vec![0.0; self.evidence.judged.len()];
        for (gone, placement) in instead {
            let Some(new) = self.evidence.of_string(placement) else { return };
            let change = new.iter().zip(&self.lying[*gone].effect_kg).map(|(new, old)| new - old);
            effect_kg.iter_mut().zip(change).for_each(|(sum, kg)| *sum += kg);
        }
        self.tell(cause, effect_kg);
    }

    /// The ends of a string of the order whose front end is at `front`.
    fn ends(&self, string: usize, front: Length) -> (Length, Length) {
        (front, front + self.plan().order[string].length)
    }

    fn tell(&mut self, cause: Cause, effect_kg: Vec<f64>) {
        self.tried += 1;
        if self.evidence.size(&effect_kg) > UNSEEN {
            let misfit = self.evidence.misfit_after(&effect_kg);
            self.found.push(Explanation { cause, misfit, effect_kg: self.evidence.over_all(&effect_kg) });
        }
    }
}

fn scaled(effect_kg: Vec<f64>, factor: f64) -> Vec<f64> {
    effect_kg.into_iter().map(|kg| kg * factor).collect()
}

/// Whether two strings cannot be told apart on a scale.
fn alike(one: &OrderedString, other: &OrderedString) -> bool {
    (one.length, &one.section, one.mass) == (other.length, &other.section, other.mass)
}
