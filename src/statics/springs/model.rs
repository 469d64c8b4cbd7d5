//! The train on springs made ready: wagons with their unknowns, and strings that lie alike gathered.

use super::bed::Rod;
use super::{RateChoice, SpringsMissing};
use crate::model::{Plan, Springs};
use crate::statics::placed::beam_of;
use crate::statics::{Consist, PlacedString, VehiclePlace};
use std::collections::HashMap;
use std::f64::consts::PI;
use std::ops::Range;

/// The train with every wagon that a placed string crosses.
#[derive(Debug)]
pub(super) struct Model<'f> {
    pub(super) consist: &'f Consist,
    /// Wagons from the front.
    pub(super) wagons: Vec<Wagon>,
    /// Stands from the front.
    pub(super) stands: Vec<Stand>,
    /// By rack of the consist; of a rack without strings it says nothing of use.
    pub(super) seats: Vec<Seat>,
    /// Strings that lie alike, in the order in which they first come.
    pub(super) strands: Vec<Strand>,
    /// By placed string: its strand; none where it has no beam.
    pub(super) strand_of: Vec<Option<usize>>,
    /// Unknowns in all.
    pub(super) unknowns: usize,
}

/// A vehicle that bears strings: its springs and where its unknowns begin (heave, pitch, roll, frame bending).
#[derive(Clone, Debug)]
pub(super) struct Wagon {
    pub(super) vehicle: usize,
    pub(super) first: usize,
    pub(super) front_n_per_m: f64,
    pub(super) rear_n_per_m: f64,
    /// Of both supports together.
    pub(super) roll_nm_per_rad: f64,
    pub(super) frame_n_per_m: Option<f64>,
    /// Half the distance between the supports.
    pub(super) half_m: f64,
}

/// Neighbouring racks of one wagon and one type: a string's y is the same at all of them.
#[derive(Clone, Debug)]
pub(super) struct Stand {
    /// Index into the model's wagons.
    pub(super) wagon: usize,
    /// Racks of the consist.
    pub(super) racks: Range<usize>,
}

/// What moves a rack: its wagon, its place on it, and how much it follows the frame's bending.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Seat {
    pub(super) wagon: usize,
    pub(super) from_middle_m: f64,
    pub(super) bend: f64,
}

/// Strings alike in place, beam, lane and heights of their racks.
#[derive(Clone, Debug)]
pub(super) struct Strand {
    pub(super) rod: Rod,
    /// Number of the beam: strands of one number differ in lane and heights only.
    pub(super) rod_number: usize,
    /// Racks of the consist that it crosses.
    pub(super) racks: Range<usize>,
    /// Stands under it.
    pub(super) stands: Range<usize>,
    pub(super) supports_m: Vec<f64>,
    /// Heights of its racks on the empty train, apart from a part that is the same at all of them.
    pub(super) offsets_m: Vec<f64>,
    pub(super) y_m: Vec<f64>,
    /// y at each stand.
    pub(super) stands_y_m: Vec<f64>,
    /// The supports that carry it on level racks.
    pub(super) level_on: Vec<usize>,
}

impl Wagon {
    /// How many unknowns it has: 3, with a frame that bends 4.
    pub(super) fn unknowns(&self) -> usize {
        if self.frame_n_per_m.is_some() { 4 } else { 3 }
    }
}

impl<'f> Model<'f> {
    /// Makes `placed` ready on the springs of their vehicles.
    ///
    /// # Errors
    /// [`SpringsMissing`] where a vehicle that a placed string crosses has no springs.
    pub(super) fn new(
        (plan, consist): (&Plan, &'f Consist),
        placed: &[PlacedString],
        rates: RateChoice,
    ) -> Result<Self, SpringsMissing> {
        let mut model = Self {
            consist,
            wagons: Vec::new(),
            stands: Vec::new(),
            seats: vec![Seat::default(); consist.racks.len()],
            strands: Vec::new(),
            strand_of: Vec::with_capacity(placed.len()),
            unknowns: 0,
        };
        model.add_wagons(plan, placed, rates)?;
        let (mut strands, mut rods) = (HashMap::new(), HashMap::new());
        for placed in placed {
            let strand = model.strand(plan, placed).map(|mut strand| {
                let next = rods.len();
                strand.rod_number = *rods.entry(strand.rod.bits()).or_insert(next);
                *strands.entry(strand.bits()).or_insert_with(|| {
                    model.strands.push(strand);
                    model.strands.len() - 1
                })
            });
            model.strand_of.push(strand);
        }
        Ok(model)
    }

    fn add_wagons(
        &mut self,
        plan: &Plan,
        placed: &[PlacedString],
        rates: RateChoice,
    ) -> Result<(), SpringsMissing> {
        let mut crossed = vec![false; self.consist.racks.len()];
        placed.iter().for_each(|placed| crossed[placed.racks.clone()].fill(true));
        let mut missing = Vec::new();
        for place in &self.consist.vehicles {
            if !crossed[place.racks.clone()].contains(&true) {
                continue;
            }
            let Some(springs) = plan.train.vehicle_types[place.vehicle_type].springs else {
                missing.push(place.vehicle_type);
                continue;
            };
            let turned = plan.train.vehicles[place.vehicle].turned;
            let wagon = Wagon::on(place, &springs, rates, self.unknowns).turned(turned);
            self.unknowns += wagon.unknowns();
            self.wagons.push(wagon);
            self.add_stands(place);
        }
        missing.sort_unstable();
        missing.dedup();
        if missing.is_empty() { Ok(()) } else { Err(SpringsMissing { vehicle_types: missing }) }
    }

    fn add_stands(&mut self, place: &VehiclePlace) {
        let wagon = self.wagons.len() - 1;
        for rack in place.racks.clone() {
            let from_middle_m = self.consist.racks[rack].from_middle_m;
            let bend = bend(from_middle_m, place.support_distance_m / 2.0);
            self.seats[rack] = Seat { wagon, from_middle_m, bend };
            match self.stands.last_mut() {
                Some(stand) if stand.wagon == wagon && self.consist.alike(stand.racks.start, rack) => {
                    stand.racks.end = rack + 1;
                }
                _ => self.stands.push(Stand { wagon, racks: rack..rack + 1 }),
            }
        }
    }

    fn strand(&self, plan: &Plan, placed: &PlacedString) -> Option<Strand> {
        let beam = placed.beam.as_ref().ok()?;
        let racks = placed.racks.clone();
        let (weight_n_per_m, stiffness_n_m2) = beam_of(plan, placed);
        let rod = Rod { front_m: placed.front.m(), rear_m: placed.rear.m(), weight_n_per_m, stiffness_n_m2 };
        let from = self.stands.partition_point(|stand| stand.racks.end <= racks.start);
        let to = self.stands.partition_point(|stand| stand.racks.start < racks.end);
        let at = |rack: usize| rack.max(racks.start) - racks.start;
        Some(Strand {
            rod,
            rod_number: 0,
            stands: from..to,
            supports_m: self.consist.racks[racks.clone()].iter().map(|rack| rack.x.m()).collect(),
            offsets_m: offsets_m(self.consist, placed),
            stands_y_m: self.stands[from..to].iter().map(|stand| placed.y_m[at(stand.racks.start)]).collect(),
            y_m: placed.y_m.clone(),
            level_on: (0..racks.len()).filter(|support| beam.carries[*support]).collect(),
            racks,
        })
    }
}

impl Wagon {
    fn on(place: &VehiclePlace, springs: &Springs, rates: RateChoice, first: usize) -> Self {
        let share = match (rates, springs.envelope) {
            (RateChoice::Entered, _) | (_, None) => 1.0,
            (RateChoice::Lowest, Some((low, _))) => low,
            (RateChoice::Highest, Some((_, high))) => high,
        };
        Self {
            vehicle: place.vehicle,
            first,
            front_n_per_m: springs.front_n_per_m * share,
            rear_n_per_m: springs.rear_n_per_m * share,
            roll_nm_per_rad: 2.0 * springs.roll_nm_per_rad * share,
            frame_n_per_m: springs.frame_n_per_m,
            half_m: place.support_distance_m / 2.0,
        }
    }

    fn turned(mut self, turned: bool) -> Self {
        if turned {
            std::mem::swap(&mut self.front_n_per_m, &mut self.rear_n_per_m);
        }
        self
    }
}

impl Consist {
    /// Whether two racks of one vehicle have their lanes at the same places.
    fn alike(&self, one: usize, other: usize) -> bool {
        self.racks[one].rack_type == self.racks[other].rack_type
    }
}

/// How much a rack rises where the middle of the frame rises by one: half a sine wave between the supports, and
/// straight on beyond them.
fn bend(from_middle_m: f64, half_m: f64) -> f64 {
    let quarter = PI / 2.0 / half_m;
    let beyond_m = from_middle_m.abs() - half_m;
    if beyond_m > 0.0 { -quarter * beyond_m } else { (quarter * from_middle_m).cos() }
}

/// Heights of a string's racks: measured offsets of racks and vehicles, and what the types' own heights differ
/// where all of them are entered.
fn offsets_m(consist: &Consist, placed: &PlacedString) -> Vec<f64> {
    let seats_m: Option<Vec<f64>> = placed.seat_m.iter().copied().collect();
    let base_m = seats_m.as_ref().and_then(|seats_m| seats_m.first().copied()).unwrap_or(0.0);
    let racks = &consist.racks[placed.racks.clone()];
    let offsets_m = racks.iter().enumerate().map(|(at, rack)| {
        let step_m = seats_m.as_ref().map_or(0.0, |seats_m| seats_m[at] - base_m);
        rack.height_offset_m + step_m
    });
    offsets_m.collect()
}

impl Rod {
    fn bits(&self) -> [u64; 4] {
        [self.front_m, self.rear_m, self.weight_n_per_m, self.stiffness_n_m2].map(f64::to_bits)
    }
}

impl Strand {
    fn bits(&self) -> (usize, Vec<u64>) {
        let numbers = self.y_m.iter().chain(&self.offsets_m);
        (self.rod_number, numbers.map(|number| number.to_bits()).collect())
    }
}
