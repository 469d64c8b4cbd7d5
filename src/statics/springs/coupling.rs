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

/// One stand under the string: its heights' second differences at interior supports `first..`.
struct Edge {
    first: usize,
    rows: Vec<[f64; COLUMNS]>,
}

impl Coupling {
    /// The coupling by `strand` where the supports `on` carry it, whose chain is `spine`.
    pub(super) fn of(model: &Model<'_>, strand: &Strand, on: &[usize], spine: &Spine) -> Self {
        let edges: Vec<Edge> =
            strand.stands.clone().map(|stand| edge(model, strand, (on, spine), stand)).collect();
        let mut blocks = Vec::with_capacity(edges.len() * (edges.len() + 1) / 2);
        let mut moments = vec![[0.0; COLUMNS]; on.len()];
        for (behind, edge) in edges.iter().enumerate() {
            moments.fill([0.0; COLUMNS]);
            for (row, moment) in edge.rows.iter().zip(&mut moments[edge.first..]) {
                *moment = row.map(|kink| 6.0 * strand.rod.stiffness_n_m2 * kink);
            }
            if !edge.rows.is_empty() {
                spine.solve(&mut moments, edge.first);
            }
            for ahead in &edges[..=behind] {
                blocks.push(product(ahead, &moments));
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

fn edge(model: &Model<'_>, strand: &Strand, (on, spine): (&[usize], &Spine), stand: usize) -> Edge {
    let racks = &model.stands[stand].racks;
    let rack = |k: usize| strand.racks.start + on[k];
    let from = on.partition_point(|support| strand.racks.start + support < racks.start);
    let to = on.partition_point(|support| strand.racks.start + support < racks.end);
    let (first, end) = (from.saturating_sub(1).max(1), (to + 1).min(on.len() - 1));
    let mut rows = Vec::new();
    if from < to {
        for i in first..end {
            let mut row = [0.0; COLUMNS];
            for k in from.max(i - 1)..to.min(i + 2) {
                let kink = spine.kink_of(i, k);
                let seat = &model.seats[rack(k)];
                row[0] += kink;
                row[1] += kink * seat.from_middle_m;
                row[2] += kink * seat.bend;
            }
            rows.push(row);
        }
    }
    Edge { first, rows }
}

fn product(ahead: &Edge, moments: &[[f64; COLUMNS]]) -> Block {
    let mut block = [[0.0; COLUMNS]; COLUMNS];
    for (row, moment) in ahead.rows.iter().zip(moments.iter().skip(ahead.first)) {
        for (kink, sums) in row.iter().zip(&mut block) {
            for (sum, moment) in sums.iter_mut().zip(moment) {
                *sum += kink * moment;
            }
        }
    }
    block
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
