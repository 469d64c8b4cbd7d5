//! Workings of what strings press sideways in curves: racks, and the wheels that it unloads.

use super::curves::{SOURCE, case_note, curves_asked};
use super::figure::{At, Depends, Figure};
use super::{Origin, Question, Working, WorkingRow, WorkingStep};
use crate::checks::Subject;
use crate::statics::Figures;
use crate::statics::curves::{CurveFigures, CurveSideLoads, height_m, side_inertia_n};
use crate::units::Quantity;

/// The figures of side loads in curves.
pub(super) const FIGURES: &[Figure] = &[
    figure("curve-rack-side-load", "Side load of a rack", racks, rack_load),
    figure("curve-wheel-unloading", "Load that wheels lose to strings bent in curves", supports, unloading),
];

const fn figure(
    name: &'static str,
    title: &'static str,
    subjects: fn(&Figures) -> Vec<Subject>,
    working: fn(&At<'_>, Subject) -> Option<Working>,
) -> Figure {
    Figure { name, title, depends: Depends::State, subjects, working }
}

fn racks(figures: &Figures) -> Vec<Subject> {
    let asked = curves_asked(figures).is_some();
    let crossed = |rack: &usize| asked && figures.placed.iter().any(|string| string.racks.contains(rack));
    (0..figures.consist.racks.len()).filter(crossed).map(Subject::Rack).collect()
}

fn supports(figures: &Figures) -> Vec<Subject> {
    let asked = curves_asked(figures).is_some();
    let both = |vehicle: usize| [0, 1].map(|support| Subject::Support(vehicle, support));
    (0..figures.consist.vehicles.len()).filter(|_| asked).flat_map(both).collect()
}

fn side_loads<'f>(at: &At<'f>) -> Option<(&'f CurveFigures, &'f CurveSideLoads)> {
    let curves = curves_asked(at.figures)?;
    let state = at.state?;
    Some((curves, curves.side_loads.iter().find(|loads| loads.state == state)?))
}

/// Strings of the state that press alike on one rack.
struct Alike {
    rack: usize,
    class: usize,
    height_m: f64,
    count: usize,
}

/// The strings on some racks, those that press alike together.
fn alike_on(at: &At<'_>, curves: &CurveFigures, racks: impl Iterator<Item = usize> + Clone) -> Vec<Alike> {
    let mut groups: Vec<Alike> = Vec::new();
    for string in at.present() {
        let Some(class) = curves.class(string.placement) else { continue };
        for rack in racks.clone().filter(|rack| string.racks.contains(rack)) {
            let height_m = height_m(at.figures, string, rack).unwrap_or_default();
            let alike = |group: &&mut Alike| {
                group.rack == rack && group.class == class && group.height_m.to_bits() == height_m.to_bits()
            };
            match groups.iter_mut().find(alike) {
                Some(group) => group.count += 1,
                None => groups.push(Alike { rack, class, height_m, count: 1 }),
            }
        }
    }
    groups
}

impl Alike {
    /// Force of the rack on one of them, with the train at a place of a case, in N.
    fn force_n(&self, curves: &CurveFigures, (case, place): (usize, usize)) -> f64 {
        let racks = &curves.classes[self.class].racks;
        let at = place * racks.len() + (self.rack - racks.start);
        curves.cases[case].forces_n[self.class].get(at).copied().unwrap_or_default()
    }
}

/// The place of the train in a case where `size` is largest.
fn worst_place(curves: &CurveFigures, case: usize, size: impl Fn(usize) -> f64) -> usize {
    let places = curves.cases.get(case).map_or(0, |case| case.places_m.len());
    let sizes = (0..places).map(|place| (place, size(place)));
    sizes.max_by(|a, b| a.1.total_cmp(&b.1)).map_or(0, |(place, _)| place)
}

fn rack_load(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::Rack(rack) = subject else { return None };
    let (curves, loads) = side_loads(at)?;
    let largest = loads.racks_n.get(rack)?;
    let groups = alike_on(at, curves, std::iter::once(rack));
    let sum_n = |place: usize| -> f64 {
        groups.iter().map(|group| group.count as f64 * group.force_n(curves, (largest.case, place))).sum()
    };
    let place = worst_place(curves, largest.case, |place| sum_n(place).abs());
    let rows = groups.iter().map(|group| WorkingRow {
        name: format!("strings alike, seat and axis at {:.3} m", group.height_m),
        values: vec![
            Quantity::count(group.count),
            Quantity::force(group.force_n(curves, (largest.case, place))),
        ],
        figure: None,
    });
    let bent = WorkingStep::new(
        ("C", "what it takes to bend the strings"),
        Quantity::force(largest.size),
        "abs(sum(n * f))",
    )
    .over(&[("n", "strings"), ("f", "force of the rack on each, right positive")], rows.collect());
    let set = at.figures.plan.route.accelerations.as_ref();
    let state = at.worked()?;
    let inertia_n = set.map_or(0.0, |set| side_inertia_n(state, rack, set.lateral_g));
    let inertia = WorkingStep::new(
        ("N", "side inertia; 0 where no accelerations are entered"),
        Quantity::force(inertia_n),
        "F * g * a",
    )
    .with(
        ("F", "load on the rack"),
        Quantity::mass(state.rack_kg(rack)),
        Origin::Figure(Question::new("rack-load", subject)),
    )
    .with_g()
    .with(
        ("a", "sideways acceleration in g"),
        Quantity::number(set.map_or(0.0, |set| set.lateral_g)),
        Origin::entered(set.map_or_else(String::new, |set| format!("{}: {}", set.name, set.source.text))),
    );
    let total =
        WorkingStep::new(("Q", "side load of the rack"), Quantity::force(largest.size + inertia_n), "C + N")
            .with_value(bent.result.clone())
            .with_value(inertia.result.clone());
    let working = at.start(subject, SOURCE).note(case_note(curves, (largest.case, place)));
    Some(working.step(bent).step(inertia).step(total))
}

fn unloading(at: &At<'_>, subject: Subject) -> Option<Working> {
    let Subject::Support(vehicle, support) = subject else { return None };
    let (curves, loads) = side_loads(at)?;
    let largest = loads.vehicles.get(vehicle)?.unloading?.get(support).copied()?;
    let rolling = Rolling { at, curves, vehicle, support, groups: Vec::new() }.grouped()?;
    let place = worst_place(curves, largest.case, |place| rolling.worse_nm((largest.case, place)));
    let worst = (largest.case, place);
    let [stiff_nm, soft_nm] = rolling.moments_nm(worst);
    let columns = [
        ("n", "strings alike"),
        ("f", "force of the rack on each, right positive"),
        ("z", "height of their centre above the rail"),
        ("xi", "place of the rack from the middle, rearward positive"),
    ];
    let stiff = WorkingStep::new(
        ("M1", "rolling moment on the wagon; a stiff body shares it half and half"),
        Quantity::moment(stiff_nm),
        "sum(n * f * z)",
    )
    .over(&columns, rolling.rows(worst));
    let place_of = at.figures.consist.vehicles.get(vehicle)?;
    let from_type = || Origin::entered("dimensions of the vehicle's type");
    let sign = if support == 0 { "-" } else { "+" };
    let soft = WorkingStep::new(
        ("M2", "what a soft body passes to this support by the lever rule"),
        Quantity::moment(soft_nm),
        format!("sum(n * f * z * (1/2 {sign} xi / p))"),
    )
    .with(("p", "distance of pivots or axles"), Quantity::length_m(place_of.support_distance_m), from_type())
    .over(&columns, rolling.rows(worst));
    let load = Quantity::mass(at.loads(vehicle)?.supports.get(support)?.load_kg);
    let share = WorkingStep::new(
        ("dQ", "share of their load that the wheels of one side lose"),
        Quantity::share(largest.size),
        "2 * max(abs(M1) / 2, abs(M2)) / (b * B * g)",
    )
    .with_value(stiff.result.clone())
    .with_value(soft.result.clone())
    .with(("b", "between the wheels' contact points"), Quantity::length_m(place_of.contact_m), from_type())
    .with(("B", "load on the support"), load, Origin::Figure(Question::new("bogie-load", subject)))
    .with_g();
    let working = at.start(subject, SOURCE).note(case_note(curves, worst));
    Some(working.step(stiff).step(soft).step(share))
}

/// The rolling moment of the strings on one vehicle.
struct Rolling<'a, 'f> {
    at: &'a At<'f>,
    curves: &'f CurveFigures,
    vehicle: usize,
    support: usize,
    groups: Vec<Alike>,
}

impl Rolling<'_, '_> {
    fn grouped(mut self) -> Option<Self> {
        let racks = self.at.figures.consist.vehicles.get(self.vehicle)?.racks.clone();
        self.groups = alike_on(self.at, self.curves, racks);
        Some(self)
    }

    /// On the whole wagon, and what a soft body passes to the support, in N m.
    fn moments_nm(&self, worst: (usize, usize)) -> [f64; 2] {
        let consist = &self.at.figures.consist;
        let sign = if self.support == 0 { -1.0 } else { 1.0 };
        let mut moments_nm = [0.0; 2];
        for group in &self.groups {
            let xi = consist.racks[group.rack].from_middle_m;
            let part = 0.5 + sign * xi / consist.vehicles[self.vehicle].support_distance_m;
            let moment_nm = group.count as f64 * group.force_n(self.curves, worst) * group.height_m;
            moments_nm[0] += moment_nm;
            moments_nm[1] += moment_nm * part;
        }
        moments_nm
    }

    fn worse_nm(&self, worst: (usize, usize)) -> f64 {
        let [stiff_nm, soft_nm] = self.moments_nm(worst);
        f64::max(soft_nm.abs(), stiff_nm.abs() / 2.0)
    }

    fn rows(&self, worst: (usize, usize)) -> Vec<WorkingRow> {
        let rows = self.groups.iter().map(|group| WorkingRow {
            name: Subject::Rack(group.rack).place(self.at.figures),
            values: vec![
                Quantity::count(group.count),
                Quantity::force(group.force_n(self.curves, worst)),
                Quantity::length_m(group.height_m),
                Quantity::length_m(self.at.figures.consist.racks[group.rack].from_middle_m),
            ],
            figure: None,
        });
        rows.collect()
    }
}
