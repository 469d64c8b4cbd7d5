//! Check `wheel-balance`: the ratio of the two wheels of each axle, by the worse of two assumptions.

use super::bearing::{axle_subject, on_bogies};
use super::{Check, Comparison, Judge, Sense};
use crate::model::LimitKind;
use crate::statics::SupportLoads;
use crate::text;
use crate::units::Quantity;

pub(crate) static CHECK: Check = Check {
    id: "wheel-balance",
    title: "Left and right wheel loads",
    what: "The heavier over the lighter wheel load of each axle, against the wheel load ratio. How a load beside \
           the middle line is shared between the two ends of a wagon depends on how stiff its body twists: half \
           and half if it is stiff, by the lever rule if it is soft. The worse of the two is judged, bogie by \
           bogie: a wagon balanced as a whole may stand askew on both of its bogies.",
    why: "A lightly loaded wheel climbs the rail in a twist or a curve. Half-unloaded trains are where it \
          happens: one string too many off one side of a nearly empty wagon is enough.",
    mend: "Move strings over this bogie toward the lighter side, take the outermost lanes off first, and take \
           strings of the two sides off in turn or as pairs.",
    source: "UIC Loading Guidelines vol. 1 sec. 3.3 as quoted in doi 10.1007/s11071-021-06386-3 (1.25 : 1); the \
             value that is judged by is the plan's.",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let Some(limit) = judge.limit(LimitKind::WheelRatio) else { return };
    for vehicle in 0..judge.figures.consist.vehicles.len() {
        let on_bogies = on_bogies(judge.figures, vehicle);
        for (state, rule) in judge.states() {
            let Some(loads) = state.vehicles.get(vehicle) else { continue };
            for (support, load) in loads.supports.iter().enumerate() {
                let ratio = Quantity::ratio(load.worse_ratio());
                let comparison = Comparison::new(ratio, limit.by(rule), Sense::AtMost);
                let subject = axle_subject(on_bogies, vehicle, support);
                judge.compare_with(Some(state.state), subject, comparison, || text![worse_assumption(load)]);
            }
        }
    }
}

/// Which assumption gives the worse ratio, and which side is the heavier by it.
fn worse_assumption(load: &SupportLoads) -> &'static str {
    let soft = load.soft.ratio() > load.stiff.ratio();
    let sides = if soft { load.soft } else { load.stiff };
    match (sides.left_kg > sides.right_kg, soft) {
        (true, true) => ", left heavier, worse as a soft body",
        (true, false) => ", left heavier, worse as a stiff body",
        (false, true) => ", right heavier, worse as a soft body",
        (false, false) => ", right heavier, worse as a stiff body",
    }
}
