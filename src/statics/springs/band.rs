//! What small errors of height and mass can do to the loads, by linear sensitivity.

use super::model::{Model, Strand};
use super::settle::{Couplings, Rest};
use super::{RateChoice, SpringsMissing};
use crate::statics::vehicle_loads::{Share, shares};
use crate::statics::{Figures, SideLoads, SupportLoads, VehicleLoads};
use crate::units::STANDARD_GRAVITY_M_S2;
use std::ops::Range;

/// Changes of the loads on the two supports of each vehicle of the consist.
pub(super) type Changes = Vec<[SupportLoads; 2]>;

/// The tolerance bands of the worked states of `figures`.
pub(super) fn of(figures: &Figures) -> Result<Vec<Changes>, SpringsMissing> {
    let mut bands = mass_bands(figures);
    let tolerance_mm = figures.plan.route.rack_height_tolerance_mm.unwrap_or(0.0);
    if tolerance_mm > 0.0 {
        let model = Model::new((&figures.plan, &figures.consist), &figures.placed, RateChoice::Entered)?;
        let racks: Vec<Range<usize>> =
            model.stands.iter().flat_map(|stand| stand.racks.clone()).map(|rack| rack..rack + 1).collect();
        let mut couplings = Couplings::default();
        for (band, worked) in bands.iter_mut().zip(&figures.worked) {
            let rest = figures.rest(&model, worked.state, &mut couplings);
            let raised = raised(&model, &rest, &racks, &mut couplings);
            add(band, &raised, tolerance_mm / 1000.0);
        }
    }
    Ok(bands)
}

/// What the mass tolerance does: every string heavier or lighter by it, as it adds most.
pub(super) fn mass_bands(figures: &Figures) -> Vec<Changes> {
    let consist = &figures.consist;
    let share = figures.plan.route.mass_tolerance.unwrap_or(0.0);
    let shares: Vec<_> = figures
        .placed
        .iter()
        .map(|placed| shares(&figures.plan, consist, placed, &placed.carried_kg))
        .collect();
    let states = figures.worked.iter().map(|worked| {
        let mut band = vec![[SupportLoads::default(); 2]; consist.vehicles.len()];
        let present = &figures.states[worked.state].present;
        for (_, shares) in figures.placed.iter().zip(&shares).filter(|(placed, _)| present[placed.placement])
        {
            for (vehicle, load) in shares {
                let supports = VehicleLoads::supports(&consist.vehicles[*vehicle], [0.0, 0.0], load);
                add_size(&mut band[*vehicle], &supports, share);
            }
        }
        band
    });
    states.collect()
}

/// The sum of the sizes of what each group of racks does by rising by 1 m, as if contact stayed.
pub(super) fn raised(
    model: &Model<'_>,
    rest: &Rest,
    groups: &[Range<usize>],
    couplings: &mut Couplings,
) -> Changes {
    let consist = model.consist;
    let mut sums = vec![[SupportLoads::default(); 2]; consist.vehicles.len()];
    if !rest.at_rest || groups.is_empty() {
        return sums;
    }
    let matrix = model.factored(rest, couplings);
    let stiffness = RackStiffness::of(model, rest);
    let racks = consist.racks.len();
    let mut loads = vec![Share::NONE; consist.vehicles.len()];
    for group in groups {
        let mut rises = vec![Rise::default(); racks];
        rises[group.clone()].fill(Rise { up_m: 1.0, tilt_rad: 0.0 });
        let mut moved = vec![0.0; model.unknowns];
        stiffness.respond(&rises, group.clone(), |rack, change| {
            model.press_rack(rack, [-change.force_n, -change.side_nm], &mut moved);
        });
        matrix.solve(&mut moved);
        for wagon in &model.wagons {
            for rack in consist.vehicles[wagon.vehicle].racks.clone() {
                let (up_m, tilt_rad) = model.rack_rise(rack, &moved);
                rises[rack].up_m += up_m;
                rises[rack].tilt_rad += tilt_rad;
            }
        }
        loads.fill(Share::NONE);
        stiffness.respond(&rises, 0..racks, |rack, change| {
            let place = &consist.racks[rack];
            let along = place.from_middle_m / consist.vehicles[place.vehicle].support_distance_m;
            let [load_kg, side_kg_m] = [change.force_n, change.side_nm].map(|n| n / STANDARD_GRAVITY_M_S2);
            loads[place.vehicle].add(&Share::beside(load_kg, along, side_kg_m));
        });
        for ((sum, load), place) in sums.iter_mut().zip(&loads).zip(&consist.vehicles) {
            add_size(sum, &VehicleLoads::supports(place, [0.0, 0.0], load), 1.0);
        }
    }
    sums
}

/// How a rack rises: by so much at the middle line, and so much more per metre to the right.
#[derive(Clone, Copy, Debug, Default)]
struct Rise {
    up_m: f64,
    tilt_rad: f64,
}

/// The change of all strings' reactions at a rack together.
struct Change {
    force_n: f64,
    side_nm: f64,
}

/// How all strings together hold the racks against each other: by pair of racks, the sums over strings of S,
/// of y S with the first rack's y, and of y S y.
struct RackStiffness {
    /// Columns of each row.
    columns: Vec<Range<usize>>,
    rows: Vec<Vec<[f64; 3]>>,
}

impl RackStiffness {
    fn of(model: &Model<'_>, rest: &Rest) -> Self {
        let mut columns: Vec<Range<usize>> = (0..model.seats.len()).map(|rack| rack..rack).collect();
        let lying = || model.strands.iter().zip(&rest.lying).zip(&rest.counts);
        for ((strand, _), _) in lying().filter(|((_, lying), _)| lying.is_some()) {
            for columns in &mut columns[strand.racks.clone()] {
                columns.start = columns.start.min(strand.racks.start);
                columns.end = columns.end.max(strand.racks.end);
            }
        }
        let rows = columns.iter().map(|columns| vec![[0.0; 3]; columns.len()]).collect();
        let mut stiffness = Self { columns, rows };
        let mut moments = Vec::new();
        for ((strand, lying), count) in lying() {
            let Some(lying) = lying else { continue };
            moments.resize(lying.on.len(), 0.0);
            for (raised, behind) in lying.on.iter().enumerate() {
                let from = lying.spine.raise(raised, &mut moments);
                for (k, ahead) in lying.on.iter().enumerate().take(raised + 1).skip(from) {
                    let force_n = count * 6.0 * strand.rod.stiffness_n_m2 * lying.spine.tilt_n(&moments, k);
                    stiffness.add(strand, [*ahead, *behind], force_n);
                }
            }
        }
        stiffness
    }

    fn add(&mut self, strand: &Strand, [ahead, behind]: [usize; 2], force_n: f64) {
        let y_m = [strand.y_m[ahead], strand.y_m[behind]];
        let racks = [strand.racks.start + ahead, strand.racks.start + behind];
        let mut add = |[row, column]: [usize; 2], y_m: f64, both: f64| {
            let at = column - self.columns[row].start;
            let sums = &mut self.rows[row][at];
            sums[0] += force_n;
            sums[1] += force_n * y_m;
            sums[2] += force_n * both;
        };
        add(racks, y_m[0], y_m[0] * y_m[1]);
        if ahead != behind {
            add([racks[1], racks[0]], y_m[1], y_m[0] * y_m[1]);
        }
    }

    /// Tells the change of the reactions where the racks of `moving` rise by `rises`.
    fn respond(&self, rises: &[Rise], moving: Range<usize>, mut tell: impl FnMut(usize, Change)) {
        for (rack, (row, columns)) in self.rows.iter().zip(&self.columns).enumerate() {
            let (from, to) = (columns.start.max(moving.start), columns.end.min(moving.end));
            let mut change = Change { force_n: 0.0, side_nm: 0.0 };
            for column in from..to {
                let (Rise { up_m, tilt_rad }, [s, ys, ysy]) = (rises[column], row[column - columns.start]);
                // The y of the string at the other rack: the same sum, read from there.
                let sy = if tilt_rad == 0.0 { 0.0 } else { self.turned(column, rack) };
                change.force_n += s * up_m + sy * tilt_rad;
                change.side_nm += ys * up_m + ysy * tilt_rad;
            }
            if from < to {
                tell(rack, change);
            }
        }
    }

    fn turned(&self, row: usize, column: usize) -> f64 {
        self.rows[row][column - self.columns[row].start][1]
    }
}

/// Adds `part` of what `more` holds.
fn add(sums: &mut Changes, more: &Changes, part: f64) {
    for (sums, more) in sums.iter_mut().zip(more) {
        add_size(sums, more, part);
    }
}

fn add_size(sums: &mut [SupportLoads; 2], more: &[SupportLoads; 2], part: f64) {
    let side = |sum: &mut SideLoads, more: SideLoads| {
        sum.left_kg += part * more.left_kg.abs();
        sum.right_kg += part * more.right_kg.abs();
    };
    for (sum, more) in sums.iter_mut().zip(more) {
        sum.load_kg += part * more.load_kg.abs();
        sum.axle_kg += part * more.axle_kg.abs();
        side(&mut sum.stiff, more.stiff);
        side(&mut sum.soft, more.soft);
    }
}
