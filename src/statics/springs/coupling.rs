//! How stiffly one string couples the wagons that it lies on: `A' S A` of its carrying racks.
//!
//! `S = 6 E I D' T^-1 D` with `T` the three-moment matrix and `D` the second differences of the supports' heights.
//! It depends on the string's places and on the racks that carry, not on its lane: the lane enters by weights
//! when strings alike are added to the train's matrix together.

use super::model::{Model, Strand};
use super::skyline::Skyline;
use super::spine::Spine;
use std::ops::Range;

/// Columns of a stand: heave, pitch, bending of the frame. Roll is heave times the lane's y.
const COLUMNS: usize = 3;

type Block = [[f64; COLUMNS]; COLUMNS];

/// The coupling of the stands under a string.
#[derive(Clone, Debug)]
pub(super) struct Coupling {
    /// The stands, as a range of the model's.
    stands: Range<usize>,
    /// Blocks of the stand in front with the stand behind, rows of the lower triangle one after the other.
    blocks: Vec<Block>,
}

impl Coupling {
    /// The coupling by `strand` where the supports `on` carry it, whose chain is `spine`.
    pub(super) fn of(model: &Model<'_>, strand: &Strand, on: &[usize], spine: &Spine) -> Self {
        let supports = supports_by_stand(model, strand, on);
        let columns: Vec<[f64; COLUMNS]> = on
            .iter()
            .map(|support| {
                let seat = &model.seats[strand.racks.start + support];
                [1.0, seat.from_middle_m, seat.bend]
            })
            .collect();
        let mut blocks = vec![[[0.0; COLUMNS]; COLUMNS]; supports.len() * (supports.len() + 1) / 2];
        let mut moments = vec![0.0; on.len()];
        for (behind, own) in supports.iter().enumerate() {
            let row = behind * (behind + 1) / 2;
            for raised in own.clone() {
                let from = spine.raise(raised, &mut moments);
                let force_n = |k: usize| 6.0 * strand.rod.stiffness_n_m2 * spine.tilt_n(&moments, k);
                for (ahead, others) in supports.iter().enumerate().take(behind) {
                    if others.end > from {
                        let sums = sums(others.clone().map(|k| (force_n(k), &columns[k])));
                        add_product(&mut blocks[row + ahead], &sums, &columns[raised]);
                    }
                }
                for k in own.start..raised {
                    let one = columns[k].map(|value| force_n(k) * value);
                    add_product(&mut blocks[row + behind], &one, &columns[raised]);
                    let other = columns[raised].map(|value| force_n(k) * value);
                    add_product(&mut blocks[row + behind], &other, &columns[k]);
                }
                let one = columns[raised].map(|value| force_n(raised) * value);
                add_product(&mut blocks[row + behind], &one, &columns[raised]);
            }
        }
        Self { stands: strand.stands.clone(), blocks }
    }

    /// Adds the coupling by strings in lanes at `sides` to the train's matrix.
    pub(super) fn add_to(&self, matrix: &mut Skyline, model: &Model<'_>, sides: &[Side<'_>]) {
        let mut blocks = self.blocks.iter();
        let count: f64 = sides.iter().map(|side| side.count).sum();
        for behind in 0..self.stands.len() {
            for ahead in 0..=behind {
                let Some(block) = blocks.next() else { return };
                let mut sums = [count, 0.0, 0.0, 0.0];
                for side in sides {
                    let (one, other) = (side.stands_y_m[ahead], side.stands_y_m[behind]);
                    sums[1] += side.count * one;
                    sums[2] += side.count * other;
                    sums[3] += side.count * one * other;
                }
                let stands = [self.stands.start + ahead, self.stands.start + behind];
                add_block(matrix, model, stands, (block, sums));
            }
        }
    }
}

/// Strings alike in one lane: how many, and the lane's y at each stand in m.
#[derive(Clone, Copy, Debug)]
pub(super) struct Side<'a> {
    pub(super) count: f64,
    pub(super) stands_y_m: &'a [f64],
}

/// The carrying supports on each stand under the string, as ranges of `on`.
fn supports_by_stand(model: &Model<'_>, strand: &Strand, on: &[usize]) -> Vec<Range<usize>> {
    let before = |rack: usize| on.partition_point(|support| strand.racks.start + support < rack);
    let stands = model.stands[strand.stands.clone()].iter();
    stands.map(|stand| before(stand.racks.start)..before(stand.racks.end)).collect()
}

fn sums<'a>(forces: impl Iterator<Item = (f64, &'a [f64; COLUMNS])>) -> [f64; COLUMNS] {
    let mut sums = [0.0; COLUMNS];
    for (force_n, column) in forces {
        for (sum, value) in sums.iter_mut().zip(column) {
            *sum += force_n * value;
        }
    }
    sums
}

fn add_product(block: &mut Block, ahead: &[f64; COLUMNS], behind: &[f64; COLUMNS]) {
    for (row, one) in block.iter_mut().zip(ahead) {
        for (value, other) in row.iter_mut().zip(behind) {
            *value += one * other;
        }
    }
}

/// The unknowns of a wagon: offset, column of its stand, and whether the lane's y weighs it.
const UNKNOWNS: [(usize, usize, bool); 4] = [(0, 0, false), (1, 1, false), (2, 0, true), (3, 2, false)];

fn add_block(
    matrix: &mut Skyline,
    model: &Model<'_>,
    [ahead, behind]: [usize; 2],
    (block, sums): (&Block, [f64; 4]),
) {
    let [one, other] = [ahead, behind].map(|stand| &model.wagons[model.stands[stand].wagon]);
    for (p, column, by_y) in UNKNOWNS.iter().take(one.unknowns()) {
        for (r, other_column, other_by_y) in UNKNOWNS.iter().take(other.unknowns()) {
            let weight = match (by_y, other_by_y) {
                (false, false) => sums[0],
                (true, false) => sums[1],
                (false, true) => sums[2],
                (true, true) => sums[3],
            };
            let value = block[*column][*other_column] * weight;
            if ahead == behind && r < p {
                continue; // The block of a stand with itself is symmetric; each pair is added once.
            }
            let twice = ahead != behind && one.first == other.first && p == r;
            matrix.add(one.first + p, other.first + r, if twice { 2.0 * value } else { value });
        }
    }
}
