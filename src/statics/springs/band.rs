//! What small errors of height and mass can do to the loads, by linear sensitivity.

use super::model::Model;
use super::settle::{Couplings, Rest};
use super::{RateChoice, SpringsMissing};
use crate::statics::vehicle_loads::Share;
use crate::statics::vehicle_loads::shares;
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
        for (band, (_, rest)) in bands.iter_mut().zip(figures.rests(&model)) {
            let raised = raised(&model, &rest, &racks);
            add(band, &raised, tolerance_mm / 1000.0);
        }
    }
    Ok(bands)
}

/// What the mass tolerance does: every string heavier or lighter by it, as it adds most.
fn mass_bands(figures: &Figures) -> Vec<Changes> {
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
pub(super) fn raised(model: &Model<'_>, rest: &Rest, groups: &[Range<usize>]) -> Changes {
    let consist = model.consist;
    let mut sums = vec![[SupportLoads::default(); 2]; consist.vehicles.len()];
    if !rest.at_rest {
        return sums;
    }
    let matrix = model.factored(rest, &mut Couplings::default());
    let mut loads = vec![Share::NONE; consist.vehicles.len()];
    let still = vec![0.0; model.unknowns];
    for group in groups {
        let mut moved = vec![0.0; model.unknowns];
        model.respond(rest, group, &still, |strand, support, change_n| {
            model.press(&model.strands[strand], support, -change_n, &mut moved);
        });
        matrix.solve(&mut moved);
        loads.fill(Share::NONE);
        model.respond(rest, group, &moved, |strand, support, change_n| {
            let strand = &model.strands[strand];
            let place = &consist.racks[strand.racks.start + support];
            let along = place.from_middle_m / consist.vehicles[place.vehicle].support_distance_m;
            let load = Share::at(change_n / STANDARD_GRAVITY_M_S2, along, strand.y_m[support]);
            loads[place.vehicle].add(&load);
        });
        for ((sum, load), place) in sums.iter_mut().zip(&loads).zip(&consist.vehicles) {
            add_size(sum, &VehicleLoads::supports(place, [0.0, 0.0], load), 1.0);
        }
    }
    sums
}

impl Model<'_> {
    /// Tells the change of the reactions, of all strings alike together, where the racks of `group` are 1 m higher
    /// and the wagons move by `moved`.
    fn respond(
        &self,
        rest: &Rest,
        group: &Range<usize>,
        moved: &[f64],
        mut tell: impl FnMut(usize, usize, f64),
    ) {
        let (mut rises_m, mut moments) = (Vec::new(), Vec::new());
        for (index, (strand, lying)) in self.strands.iter().zip(&rest.lying).enumerate() {
            let Some(lying) = lying else { continue };
            rises_m.clear();
            rises_m.extend(lying.on.iter().map(|support| {
                let own_m = if group.contains(&(strand.racks.start + support)) { 1.0 } else { 0.0 };
                own_m + self.rise_m(strand, *support, moved)
            }));
            lying.stiffen(strand.rod.stiffness_n_m2, &rises_m, &mut moments);
            for (k, support) in lying.on.iter().enumerate() {
                tell(index, *support, rest.counts[index] * lying.spine.tilt_n(&moments, k));
            }
        }
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
