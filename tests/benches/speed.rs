//! How long the mechanics and the checks take on the full-train sample; prints, and judges nothing.
//!
//! `cargo bench --bench speed` (with `--no-default-features` it builds without the window). Every run starts
//! from the plan alone: nothing that an earlier run worked out is used again.

#[cfg(feature = "gui")]
mod frame;
mod huge;

use longstow::checks::assess;
use longstow::format;
use longstow::model::{Curve, Plan, SCurve, Topic};
use longstow::planning::what_if::{Knob, Scratch, Sweep};
use longstow::statics::{Beam, Consist, Figures, PlacedString, Scope};
use longstow::units::{Length, STANDARD_GRAVITY_M_S2};
use std::error::Error;
use std::hint::black_box;
use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

/// Runs of a measurement that is not a drag.
const RUNS: usize = 200;

/// How far a string is dragged, and by how much at a time.
const DRAG: (Length, Length) = (Length::from_mm(12_000), Length::from_mm(10));

fn main() -> Result<(), Box<dyn Error>> {
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-loads/b-full-train.longstow");
    let plan = format::read(&std::fs::read(sample)?)?;
    let figures = Figures::of(Arc::new(plan.clone()), Scope::One(0));
    println!("{:<58} {:>12} {:>12}", "", "median", "99th percent");
    one_string(&figures);
    all_strings(&figures);
    current_state(&plan);
    all_states(&plan);
    drag(&plan, &figures);
    slider(&plan);
    let reference = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/plans/reference-train.longstow");
    let reference = format::read(&std::fs::read(reference)?)?;
    springs("reference train", &reference);
    springs("reference train, staggered", &staggered(&reference));
    curves(plan.clone());
    #[cfg(feature = "gui")]
    frame::frames(&plan);
    let huge = huge::huge(&plan)?;
    one_and_all_states("train of 297 flats and 550 strings", &huge);
    #[cfg(feature = "gui")]
    frame::steps("train of 297 flats and 550 strings", &huge);
    Ok(())
}

fn one_string(figures: &Figures) {
    let Some(string) = figures.placed.first() else { return };
    let supports_m = supports_m(&figures.consist, string);
    let solve = || drop(black_box(beam(string, &supports_m).solve()));
    show("one string on its racks", (0..100 * RUNS).map(|_| timed(solve)));
}

/// Every string solved on its own, like ones too.
fn all_strings(figures: &Figures) {
    let strings = figures.placed.iter().map(|string| (string, supports_m(&figures.consist, string)));
    let strings: Vec<_> = strings.collect();
    let solve = || {
        for (string, supports_m) in &strings {
            drop(black_box(beam(string, supports_m).solve()));
        }
    };
    show(&format!("all {} strings on their racks", strings.len()), (0..RUNS).map(|_| timed(solve)));
}

fn current_state(plan: &Plan) {
    let run = || drop(black_box(Figures::of(Arc::new(plan.clone()), Scope::One(0))));
    show("figures of one state", (0..RUNS).map(|_| timed(run)));
}

/// What the what-if view does in the frame in which another slider moves: figures and checks of the scratch copy, and the
/// first values of a new curve.
fn slider(plan: &Plan) {
    let Some(scratch) = Scratch::of(Arc::new(plan.clone()), &[]) else { return };
    let mut count = 0;
    let mut run = || {
        count = count % 49 + 1;
        let scratch = scratch.with(Knob::Count, count);
        drop(black_box(assess(&Figures::of(scratch.plan(), Scope::One(0)).live())));
        let mut sweep = Sweep::new(&scratch, Knob::FrontEnd);
        while sweep.readings().count() < 32 && sweep.work() {}
        drop(black_box(sweep));
    };
    show("slider moved, with 32 values of another curve", (0..RUNS).map(|_| timed(&mut run)));
}

fn all_states(plan: &Plan) {
    let figures = || Figures::of(Arc::new(plan.clone()), Scope::All);
    let states = figures().states.len();
    let run = || drop(black_box(figures()));
    show(&format!("figures of all {states} states"), (0..RUNS).map(|_| timed(run)));
    let run = || drop(black_box(assess(&figures())));
    show(&format!("figures of all {states} states with all checks"), (0..RUNS).map(|_| timed(run)));
}

/// What a step on a large train costs at once, and what follows beside the window.
fn one_and_all_states(name: &str, plan: &Plan) {
    let plan = Arc::new(plan.clone());
    let worked = |scope| drop(black_box(assess(&Figures::of(plan.clone(), scope).live())));
    let all = || drop(black_box(assess(&Figures::of(plan.clone(), Scope::All))));
    show(&format!("{name}: one state"), (0..20).map(|_| timed(|| worked(Scope::One(0)))));
    show(&format!("{name}: all states"), (0..3).map(|_| timed(all)));
}

/// Drags the first string along the train so that its front end passes racks and the gap between two wagons;
/// each step works out the current state and runs all checks on it.
fn drag(plan: &Plan, figures: &Figures) {
    let Some(string) = figures.placed.first() else { return };
    let (far, step) = DRAG;
    let gaps = figures.consist.vehicles.iter().map(|vehicle| vehicle.rear);
    let Some(gap) = gaps.min_by_key(|gap| (*gap - string.front).abs()) else { return };
    let start = gap - Length::from_mm(far.mm() / 2);
    let steps = (0..=far.mm() / step.mm()).map(|count| {
        timed(|| {
            let mut dragged = plan.clone();
            dragged.placements[string.placement].front = start + step * count;
            let figures = Figures::of(Arc::new(dragged), Scope::One(0));
            drop(black_box(assess(&figures)));
        })
    });
    show("drag step of 10 mm with all checks of the current state", steps);
}

/// The reference train with every string end at a place of its own.
fn staggered(plan: &Plan) -> Plan {
    let mut plan = plan.clone();
    for (nth, placement) in (0..).zip(&mut plan.placements) {
        placement.front += Length::from_mm(137 * nth - 3_400);
    }
    plan
}

/// One state on springs, beside the level figures that it starts from.
fn springs(name: &str, plan: &Plan) {
    let plan = Arc::new(plan.clone());
    let figures = || Figures::of(plan.clone(), Scope::One(0));
    let run = |what: &str, look: &dyn Fn(&Figures)| {
        let times = (0..RUNS).map(|_| {
            let figures = figures();
            timed(|| look(black_box(&figures)))
        });
        show(&format!("{name}: {what}"), times);
    };
    run("one state on springs", &|figures| _ = black_box(figures.springs().is_ok()));
    run("envelope of one state", &|figures| _ = black_box(figures.spring_envelope().is_ok()));
    run("tolerance bands of one state", &|figures| _ = black_box(figures.tolerance_bands().is_ok()));
}

/// A tight curve and a reverse curve under the same train, in pockets with play.
fn curves(mut plan: Plan) {
    let curve = Curve { radius_m: 150.0, arc_m: None, transition_m: 20.0, cant_mm: None, speed_kmh: None };
    plan.route.curves = vec![curve];
    plan.route.s_curve = Some(SCurve { radius_m: 190.0, straight_m: 6.0 });
    plan.route.asked = vec![Topic::Curves];
    for rack_type in &mut plan.train.rack_types {
        rack_type.side_play_mm = Some(20.0);
    }
    let plan = Arc::new(plan);
    let live = || Figures::of(plan.clone(), Scope::One(0)).live();
    let run = |figures: Figures| {
        timed(|| {
            black_box(figures.curves());
        })
    };
    show("steady curve of one state", (0..RUNS).map(|_| run(live())));
    show(
        "entry and reverse curve of one state",
        (0..10).map(|_| run(Figures::of(plan.clone(), Scope::One(0)))),
    );
    show(
        "entry and reverse curve of all states",
        (0..10).map(|_| run(Figures::of(plan.clone(), Scope::All))),
    );
}

fn supports_m(consist: &Consist, string: &PlacedString) -> Vec<f64> {
    consist.racks[string.racks.clone()].iter().map(|rack| rack.x.m()).collect()
}

fn beam<'a>(string: &PlacedString, supports_m: &'a [f64]) -> Beam<'a> {
    Beam {
        supports_m,
        front_m: string.front.m(),
        rear_m: string.rear.m(),
        weight_n_per_m: string.mass_kg * STANDARD_GRAVITY_M_S2 / (string.rear - string.front).m(),
        // 60E1 at 210 GPa; the time does not depend on it.
        stiffness_n_m2: 210.0e9 * 3_038.3e-8,
    }
}

fn timed(run: impl FnOnce()) -> Duration {
    let start = Instant::now();
    run();
    start.elapsed()
}

fn show(name: &str, times: impl Iterator<Item = Duration>) {
    let mut times: Vec<Duration> = times.collect();
    times.sort_unstable();
    let at = |share: f64| times.get((share * (times.len() - 1) as f64).round() as usize);
    let text = |time: Option<&Duration>| time.map_or("-".to_owned(), |time| format!("{time:.2?}"));
    println!("{name:<58} {:>12} {:>12}", text(at(0.5)), text(at(0.99)));
}
