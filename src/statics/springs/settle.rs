//! Brings the train on springs to rest: damped Newton steps on its energy, contact settled string by string.
//!
//! The energy of springs and strings, each string lying as it will on its racks, is convex in the movements of the
//! wagons and has a gradient without jumps. A step with the contact of the moment is exact when the contact
//! stays; otherwise it is shortened until the energy no longer rises along it, so that the steps end for certain.

use super::bed::{Bed, Lying};
use super::coupling::{Coupling, Side};
use super::model::{Model, Strand};
use super::skyline::Skyline;
use std::collections::HashMap;
use std::rc::Rc;

/// Share of the strings' weight below which forces on a wagon are in balance.
const BALANCE_SLACK: f64 = 1.0e-9;

/// The most Newton steps; one to three are usual.
const MOST_STEPS: usize = 60;

/// The train at rest, or as near to it as the steps came.
#[derive(Clone, Debug)]
pub(super) struct Rest {
    /// The unknowns: movements from the empty train.
    pub(super) moved: Vec<f64>,
    /// By strand: how its strings lie; none of a strand that is not on the train.
    pub(super) lying: Vec<Option<Lying>>,
    /// By strand: how many strings of it are on the train.
    pub(super) counts: Vec<f64>,
    /// Newton steps taken.
    pub(super) steps: usize,
    /// Whether forces balance.
    pub(super) at_rest: bool,
}

/// Couplings worked out, by beam and carrying supports.
#[derive(Debug, Default)]
pub(super) struct Couplings(HashMap<(usize, Vec<usize>), Rc<Coupling>>);

impl Model<'_> {
    /// Brings the train with `counts` strings of each strand to rest.
    pub(super) fn settle(&self, counts: Vec<f64>, couplings: &mut Couplings) -> Rest {
        let weight_n: f64 = self.strands.iter().zip(&counts).map(|(s, count)| count * s.weight_n()).sum();
        let lying = self.strands.iter().zip(&counts);
        let lying = lying.map(|(s, count)| (*count > 0.0).then(|| Lying::on(s.level_on.clone())));
        let mut rest = Rest {
            moved: vec![0.0; self.unknowns],
            lying: lying.collect(),
            counts,
            steps: 0,
            at_rest: false,
        };
        let mut out_of_balance = self.lay(&mut rest);
        rest.at_rest = weight_n <= 0.0;
        while !rest.at_rest && rest.steps < MOST_STEPS {
            let matrix = self.factored(&rest, couplings);
            let mut step: Vec<f64> = out_of_balance.iter().map(|force| -force).collect();
            matrix.solve(&mut step);
            out_of_balance = self.follow(&mut rest, &step, &out_of_balance);
            rest.steps += 1;
            rest.at_rest = self.balances(&out_of_balance, BALANCE_SLACK * weight_n);
        }
        rest
    }

    /// The stiffness of springs and strings, factored.
    pub(super) fn factored(&self, rest: &Rest, couplings: &mut Couplings) -> Skyline {
        let mut matrix = Skyline::zero(self.skyline(rest));
        for wagon in &self.wagons {
            let (front, rear, first) = (wagon.front_n_per_m, wagon.rear_n_per_m, wagon.first);
            matrix.add(first, first, front + rear);
            matrix.add(first, first + 1, (rear - front) * wagon.half_m);
            matrix.add(first + 1, first + 1, (front + rear) * wagon.half_m * wagon.half_m);
            matrix.add(first + 2, first + 2, wagon.roll_nm_per_rad);
            if let Some(frame) = wagon.frame_n_per_m {
                matrix.add(first + 3, first + 3, frame);
            }
        }
        for (coupling, strands) in self.couplings(rest, couplings) {
            let sides: Vec<Side<'_>> = strands
                .iter()
                .map(|strand| Side {
                    count: rest.counts[*strand],
                    stands_y_m: &self.strands[*strand].stands_y_m,
                })
                .collect();
            coupling.add_to(&mut matrix, self, &sides);
        }
        matrix.factor();
        matrix
    }

    /// The couplings in force, each with the strands that have it, in the order of strands.
    fn couplings(&self, rest: &Rest, known: &mut Couplings) -> Vec<(Rc<Coupling>, Vec<usize>)> {
        let mut found: Vec<(Rc<Coupling>, Vec<usize>)> = Vec::new();
        let mut places: HashMap<(usize, &[usize]), usize> = HashMap::new();
        for (index, lying) in rest.lying.iter().enumerate() {
            let Some(lying) = lying else { continue };
            let strand = &self.strands[index];
            let place = *places.entry((strand.rod_number, &lying.on)).or_insert_with(|| {
                let key = (strand.rod_number, lying.on.clone());
                let coupling = known.0.entry(key);
                let make = || Rc::new(Coupling::of(self, strand, &lying.on, &lying.spine));
                found.push((coupling.or_insert_with(make).clone(), Vec::new()));
                found.len() - 1
            });
            found[place].1.push(index);
        }
        found
    }

    /// The first column of each row: that of the foremost wagon that shares a string with the row's wagon.
    fn skyline(&self, rest: &Rest) -> Vec<usize> {
        let mut foremost: Vec<usize> = (0..self.wagons.len()).collect();
        for (strand, lying) in self.strands.iter().zip(&rest.lying) {
            if lying.is_some() && !strand.stands.is_empty() {
                let ahead = self.stands[strand.stands.start].wagon;
                for stand in &self.stands[strand.stands.clone()] {
                    foremost[stand.wagon] = foremost[stand.wagon].min(ahead);
                }
            }
        }
        let rows = self.wagons.iter().zip(foremost);
        rows.flat_map(|(wagon, ahead)| std::iter::repeat_n(self.wagons[ahead].first, wagon.unknowns()))
            .collect()
    }

    /// Takes the step, shortened where the energy would rise at its end; gives the forces out of balance there.
    fn follow(&self, rest: &mut Rest, step: &[f64], out_of_balance: &[f64]) -> Vec<f64> {
        let from = rest.moved.clone();
        let descent = dot(out_of_balance, step);
        let (mut low, mut high, mut part) = (0.0, 1.0, 1.0);
        let mut forces;
        let mut tries = 0;
        loop {
            for (moved, (from, step)) in rest.moved.iter_mut().zip(from.iter().zip(step)) {
                *moved = from + part * step;
            }
            forces = self.lay(rest);
            let slope = dot(&forces, step);
            tries += 1;
            if (slope <= 0.0 && part >= 1.0) || slope.abs() <= 0.1 * descent.abs() || tries > 40 {
                return forces;
            }
            if slope > 0.0 {
                high = part
            } else {
                low = part
            }
            part = f64::midpoint(low, high);
        }
    }

    /// Lays every string on its racks where the wagons are; gives the forces out of balance on the wagons.
    fn lay(&self, rest: &mut Rest) -> Vec<f64> {
        let moved = &rest.moved;
        let mut forces = vec![0.0; self.unknowns];
        let mut heights_m = Vec::new();
        for ((strand, lying), count) in self.strands.iter().zip(&mut rest.lying).zip(&rest.counts) {
            let Some(lying) = lying else { continue };
            self.heights_m(strand, moved, &mut heights_m);
            lying.settle(&Bed { rod: strand.rod, supports_m: &strand.supports_m, heights_m: &heights_m });
            for (support, reaction_n) in lying.on.iter().zip(&lying.reactions_n) {
                let (rack, force_n) = (strand.racks.start + support, count * reaction_n);
                self.press_rack(rack, [force_n, force_n * strand.y_m[*support]], &mut forces);
            }
        }
        for wagon in &self.wagons {
            let [front_n, rear_n, roll_nm, frame_n] = wagon.spring_forces(moved);
            forces[wagon.first] -= front_n + rear_n;
            forces[wagon.first + 1] -= (rear_n - front_n) * wagon.half_m;
            forces[wagon.first + 2] -= roll_nm;
            if wagon.frame_n_per_m.is_some() {
                forces[wagon.first + 3] -= frame_n;
            }
        }
        forces
    }

    /// Adds what a force down on a rack, and its moment about the middle line, do to the unknowns of its wagon.
    pub(super) fn press_rack(&self, rack: usize, [force_n, side_nm]: [f64; 2], forces: &mut [f64]) {
        let seat = &self.seats[rack];
        let wagon = &self.wagons[seat.wagon];
        forces[wagon.first] += force_n;
        forces[wagon.first + 1] += force_n * seat.from_middle_m;
        forces[wagon.first + 2] += side_nm;
        if wagon.frame_n_per_m.is_some() {
            forces[wagon.first + 3] += force_n * seat.bend;
        }
    }

    /// How much the wagons' movement raises a rack at the middle line, in m, and tilts it, in rad.
    pub(super) fn rack_rise(&self, rack: usize, moved: &[f64]) -> (f64, f64) {
        let seat = &self.seats[rack];
        let wagon = &self.wagons[seat.wagon];
        let own = &moved[wagon.first..wagon.first + wagon.unknowns()];
        let stiff_m = own[0] + seat.from_middle_m * own[1];
        (own.get(3).map_or(stiff_m, |frame_m| stiff_m + seat.bend * frame_m), own[2])
    }

    fn heights_m(&self, strand: &Strand, moved: &[f64], heights_m: &mut Vec<f64>) {
        heights_m.clear();
        heights_m.extend(strand.offsets_m.iter().enumerate().map(|(support, offset_m)| {
            let (up_m, tilt_rad) = self.rack_rise(strand.racks.start + support, moved);
            offset_m + up_m + strand.y_m[support] * tilt_rad
        }));
    }

    fn balances(&self, forces: &[f64], slack_n: f64) -> bool {
        self.wagons.iter().all(|wagon| {
            let own = &forces[wagon.first..wagon.first + wagon.unknowns()];
            own[0].abs() <= slack_n
                && own[1].abs() <= slack_n * wagon.half_m
                && own[2].abs() <= slack_n
                && own.get(3).is_none_or(|force| force.abs() <= slack_n)
        })
    }
}

impl super::model::Wagon {
    /// What the springs push up: front and rear support in N, roll moment in N m, frame in N.
    pub(super) fn spring_forces(&self, moved: &[f64]) -> [f64; 4] {
        let own = &moved[self.first..self.first + self.unknowns()];
        let frame_n = self.frame_n_per_m.zip(own.get(3)).map_or(0.0, |(rate, moved)| -rate * moved);
        [
            -self.front_n_per_m * (own[0] - self.half_m * own[1]),
            -self.rear_n_per_m * (own[0] + self.half_m * own[1]),
            -self.roll_nm_per_rad * own[2],
            frame_n,
        ]
    }
}

impl Strand {
    fn weight_n(&self) -> f64 {
        self.rod.weight_n_per_m * (self.rod.rear_m - self.rod.front_m)
    }
}

fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(a, b)| a * b).sum()
}
