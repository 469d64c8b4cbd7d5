//! The rows of the figures tables: what they say, how they sort, and what they select.

use super::springs_columns;
use crate::checks::{self, Comparison, Outcome, Sense};
use crate::gui::canvas::rack_words;
use crate::gui::menus::MenuOf;
use crate::gui::{Request, Role, SelectMode, Shown, ZoomTarget};
use crate::model::{LimitKind, StringMark, TrainEnd};
use crate::statics::{PlacedString, SpanFigures, SupportLoads};
use crate::units::Quantity;
use crate::working::Question;
use egui::Modifiers;

/// A table of figures.
pub(super) struct Table {
    /// What it shows, in a few words.
    pub about: &'static str,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows.
    pub rows: Vec<Row>,
}

/// A column.
pub(super) struct Column {
    /// Its header.
    pub title: &'static str,
    /// What it means.
    pub about: &'static str,
    /// Width at first, in points.
    pub width: f32,
}

/// What a row stands for.
enum Subject {
    Vehicle(usize),
    Rack(usize),
    String(StringMark),
}

/// A row.
pub(super) struct Row {
    /// Its name, for screen readers.
    pub name: String,
    /// One per column.
    pub cells: Vec<Cell>,
    subject: Subject,
}

/// A cell.
pub(super) struct Cell {
    /// What it says.
    pub text: String,
    /// What it is sorted by; words sort by their text.
    quantity: Option<Quantity>,
    /// Its colour, where it is not the usual one; the sign beside the figure says the same.
    pub role: Option<Role>,
    /// What to ask for its working; none where it was entered and not worked out.
    pub question: Option<Question>,
}

impl Table {
    /// Sorts by a column: numbers by value, words by text; what is missing comes last.
    pub(super) fn sort(&mut self, column: usize) {
        self.rows.sort_by(|a, b| match (a.cells.get(column), b.cells.get(column)) {
            (Some(a), Some(b)) => match (a.quantity, b.quantity) {
                (Some(x), Some(y)) => x.value.total_cmp(&y.value),
                (None, None) => a.text.cmp(&b.text),
                (a, b) => a.is_none().cmp(&b.is_none()),
            },
            _ => std::cmp::Ordering::Equal,
        });
    }

    /// Header and rows with tabs between cells.
    pub(super) fn as_text(&self) -> String {
        let mut lines = vec![self.columns.iter().map(|column| column.title).collect::<Vec<_>>().join("\t")];
        let line = |row: &Row| row.cells.iter().map(|cell| cell.text.as_str()).collect::<Vec<_>>().join("\t");
        lines.extend(self.rows.iter().map(line));
        lines.join("\n")
    }

    /// What a screen reader tells of a row: each header with what stands under it.
    pub(super) fn told(&self, row: &Row) -> String {
        let cells = self.columns.iter().zip(&row.cells);
        cells.map(|(column, cell)| format!("{} {}", column.title, cell.text)).collect::<Vec<_>>().join(", ")
    }
}

impl Row {
    /// Whether what it stands for is selected.
    pub(super) fn is_selected(&self, shown: &Shown<'_>) -> bool {
        match &self.subject {
            Subject::Vehicle(vehicle) => shown.selection.vehicle == Some(*vehicle),
            Subject::Rack(rack) => shown.selection.rack == *rack,
            Subject::String(mark) => shown.selection.strings.contains(mark),
        }
    }

    /// The request that a click makes.
    pub(super) fn select(&self, modifiers: Modifiers) -> Request {
        match &self.subject {
            Subject::Vehicle(vehicle) => Request::SelectVehicle(Some(*vehicle)),
            Subject::Rack(rack) => Request::ShowRack(*rack),
            Subject::String(mark) => {
                let mode = if modifiers.command { SelectMode::Toggle } else { SelectMode::Only };
                Request::Select { strings: vec![mark.clone()], mode }
            }
        }
    }

    /// The menu of what it stands for.
    pub(super) fn menu(&self) -> MenuOf {
        match &self.subject {
            Subject::Vehicle(vehicle) => MenuOf::Vehicle(*vehicle),
            Subject::Rack(rack) => MenuOf::Rack(*rack),
            Subject::String(mark) => MenuOf::String(mark.clone()),
        }
    }

    /// The requests that a double click makes.
    pub(super) fn zoom(&self) -> Option<Request> {
        Some(Request::ZoomTo(match &self.subject {
            Subject::Vehicle(vehicle) => ZoomTarget::Vehicle(*vehicle),
            Subject::Rack(rack) => ZoomTarget::Rack(*rack),
            Subject::String(mark) => ZoomTarget::Strings(vec![mark.clone()]),
        }))
    }
}

impl Cell {
    /// Whether it holds words rather than a figure.
    pub(super) fn is_words(&self) -> bool {
        self.quantity.is_none()
    }

    pub(super) fn words(text: impl Into<String>) -> Self {
        Self { text: text.into(), quantity: None, role: None, question: None }
    }

    pub(super) fn figure(shown: &Shown<'_>, quantity: Quantity) -> Self {
        // The unit stands in no cell: it is the same down the column, and digits align better without it.
        let text = quantity.show_number(shown.style);
        Self { text, quantity: Some(quantity), role: None, question: None }
    }

    /// The same with the figure whose working it is the result of.
    pub(super) fn of(self, what: &'static str, subject: checks::Subject) -> Self {
        Self { question: Some(Question::new(what, subject)), ..self }
    }

    /// The same where there is such a thing.
    fn of_some(self, what: &'static str, subject: Option<checks::Subject>) -> Self {
        match subject {
            Some(subject) => self.of(what, subject),
            None => self,
        }
    }

    fn some(shown: &Shown<'_>, quantity: Option<Quantity>) -> Self {
        quantity.map_or_else(|| Self::words("?"), |quantity| Self::figure(shown, quantity))
    }

    /// Marks the figure by its share of a limit; a broken one gets a sign as well as a colour.
    pub(super) fn against(mut self, shown: &Shown<'_>, limit: Option<f64>) -> Self {
        if let (Some(quantity), Some(limit)) = (self.quantity, limit) {
            let comparison = Comparison::new(quantity, limit, Sense::AtMost);
            match comparison.outcome(shown.plan.limits.near_share()) {
                Outcome::Fail => {
                    self.role = Some(Role::Fail);
                    self.text.insert_str(0, "! ");
                }
                Outcome::Near => self.role = Some(Role::Near),
                _ => {}
            }
        }
        self
    }
}

pub(super) fn column(title: &'static str, width: f32, about: &'static str) -> Column {
    Column { title, about, width }
}

/// Where the columns on springs begin: behind the largest axle load.
const AFTER_AXLE: usize = 6;

/// Loads of every vehicle in the state shown.
pub(super) fn vehicles(shown: &Shown<'_>) -> Table {
    let mut columns = vec![
        column("Vehicle", 62.0, "Mark of the vehicle"),
        column("Gross", 52.0, "Tare and load"),
        column("Load", 52.0, "Load from strings"),
        column("Front bogie", 54.0, "Load on the front bogie or axle"),
        column("Rear bogie", 54.0, "Load on the rear bogie or axle"),
        column("Axle, worst", 56.0, "Largest axle load"),
        column(
            "Wheel ratio, stiff",
            58.0,
            "Worst right to left wheel ratio where a stiff body shares the sideways moment",
        ),
        column(
            "Wheel ratio, soft",
            58.0,
            "Worst wheel ratio where a soft body passes the moment by the lever rule",
        ),
        column("Front to rear", 54.0, "Larger over smaller bogie or axle load"),
        column("Mass per length", 56.0, "Gross mass over length"),
        column("Centre height", 54.0, "Gross centre of gravity above the rail"),
    ];
    let springs = springs_columns::are_shown(shown);
    if springs {
        columns.splice(AFTER_AXLE..AFTER_AXLE, springs_columns::columns());
    }
    let Some(state) = shown.figures.state(shown.state) else {
        return Table { about: "", columns, rows: Vec::new() };
    };
    let plan = shown.plan;
    let limit = |kind| shown.figures.accepted_limit(kind, shown.state);
    let class = plan.route.line_class.as_ref();
    let rows = state.vehicles.iter().zip(&shown.figures.consist.vehicles).map(|(loads, place)| {
        let kind = plan.train.vehicle_types.get(place.vehicle_type);
        let mark = plan.train.vehicles.get(place.vehicle).map_or("?", |vehicle| vehicle.mark.as_str());
        let mass = |kg: f64| Cell::figure(shown, Quantity::mass(kg));
        let ratio = |ratio: f64| Cell::figure(shown, Quantity::ratio(ratio));
        let bogie = kind.and_then(|kind| kind.bogie_rating_kg);
        let axle_limit = kind.and_then(|kind| plan.least_axle_rating_kg(kind));
        let axle = loads.supports.iter().map(|support| support.axle_kg).fold(0.0, f64::max);
        let stiff = loads.supports.iter().map(|support| support.stiff.ratio()).fold(1.0, f64::max);
        let soft = loads.supports.iter().map(|support| support.soft.ratio()).fold(1.0, f64::max);
        let support_limit =
            if place.axles_per_support == 1 { LimitKind::TwoAxleRatio } else { LimitKind::BogieRatio };
        let single = place.axles_per_support == 1;
        let whole = checks::Subject::Vehicle(place.vehicle);
        let support = |at: usize| support_of(place.vehicle, single, at);
        let worst = |of: fn(&SupportLoads) -> f64| {
            support(usize::from(of(&loads.supports[1]) > of(&loads.supports[0])))
        };
        let bogie_name = if single { "axle-load" } else { "bogie-load" };
        let mut row = Row {
            name: format!("Vehicle {mark}"),
            subject: Subject::Vehicle(place.vehicle),
            cells: vec![
                Cell::words(mark),
                mass(loads.gross_kg).of("gross-mass", whole),
                mass(loads.payload_kg)
                    .against(shown, kind.and_then(|kind| kind.payload_rating_kg))
                    .of("payload", whole),
                mass(loads.supports[0].load_kg).against(shown, bogie).of(bogie_name, support(0)),
                mass(loads.supports[1].load_kg).against(shown, bogie).of(bogie_name, support(1)),
                mass(axle).against(shown, axle_limit).of("axle-load", worst(|support| support.axle_kg)),
                ratio(stiff)
                    .against(shown, limit(LimitKind::WheelRatio))
                    .of("wheel-balance", worst(|support| support.stiff.ratio())),
                ratio(soft)
                    .against(shown, limit(LimitKind::WheelRatio))
                    .of("wheel-balance", worst(|support| support.soft.ratio())),
                ratio(loads.support_ratio())
                    .against(shown, limit(support_limit))
                    .of(if single { "axle-ratio" } else { "bogie-ratio" }, whole),
                Cell::figure(shown, Quantity::mass_per_length(loads.mass_per_metre_kg))
                    .against(shown, class.and_then(|class| class.mass_per_metre_kg))
                    .of("mass-per-metre", whole),
                Cell::some(shown, loads.centre_height_m.map(Quantity::length_m))
                    .against(shown, limit(LimitKind::CentreHeight))
                    .of_some("centre-height", loads.centre_height_m.map(|_| whole)),
            ],
        };
        if springs {
            let cells = springs_columns::cells(shown, place.vehicle, loads, axle_limit);
            row.cells.splice(AFTER_AXLE..AFTER_AXLE, cells);
        }
        row
    });
    Table { about: units_words(shown), columns, rows: rows.collect() }
}

/// A support as findings and workings name it: a bogie, or an axle of a two-axle vehicle.
pub(super) fn support_of(vehicle: usize, single: bool, support: usize) -> checks::Subject {
    match single {
        true => checks::Subject::Axle(vehicle, support),
        false => checks::Subject::Support(vehicle, support),
    }
}

/// Loads of every rack in the state shown.
pub(super) fn racks(shown: &Shown<'_>) -> Table {
    let consist = &shown.figures.consist;
    let tiers = shown.plan.train.rack_types.iter().map(|kind| kind.tiers.len()).max().unwrap_or(0);
    let mut columns = vec![
        column("Rack", 90.0, "Vehicle and number of the rack from its front end"),
        column("Place", 66.0, "Place in the train"),
        column("Load", 56.0, "Load on the rack"),
        column("Rating", 56.0, "Rating of the rack"),
        column("Used", 46.0, "Load over rating"),
    ];
    const TIERS: [&str; 12] = [
        "Tier 1", "Tier 2", "Tier 3", "Tier 4", "Tier 5", "Tier 6", "Tier 7", "Tier 8", "Tier 9", "Tier 10",
        "Tier 11", "Tier 12",
    ];
    let tiers = tiers.min(TIERS.len());
    columns.extend(TIERS.iter().take(tiers).map(|title| column(title, 48.0, "Load on the tier")));
    let state = shown.figures.state(shown.state);
    let rows = consist.racks.iter().enumerate().map(|(at, rack)| {
        let kind = shown.plan.train.rack_types.get(rack.rack_type);
        let rating = kind.and_then(|kind| kind.rack_rating_kg);
        let load = state.map_or(0.0, |state| state.rack_kg(at));
        let mut cells = vec![
            Cell::words(rack_words(shown.plan, consist, at)),
            Cell::figure(shown, Quantity::length(rack.x)),
            Cell::figure(shown, Quantity::mass(load))
                .against(shown, rating)
                .of("rack-load", checks::Subject::Rack(at)),
            Cell::some(shown, rating.map(Quantity::mass)),
            Cell::some(shown, rating.map(|rating| Quantity::share(load / rating))),
        ];
        let loads = state.and_then(|state| state.rack_tiers_kg.get(at));
        cells.extend((0..tiers).map(|tier| {
            match loads.and_then(|loads| loads.get(tier)) {
                Some(kg) => Cell::figure(shown, Quantity::mass(*kg))
                    .against(shown, kind.and_then(|kind| kind.tier_rating_kg))
                    .of("tier-load", checks::Subject::RackTier(at, tier as u32 + 1)),
                None => Cell::words(""),
            }
        }));
        Row { name: rack_words(shown.plan, consist, at), subject: Subject::Rack(at), cells }
    });
    Table { about: units_words(shown), columns, rows: rows.collect() }
}

/// Every placed string on its racks; this does not depend on the state.
pub(super) fn strings(shown: &Shown<'_>) -> Table {
    let columns = vec![
        column("String", 56.0, "Mark of the string"),
        column("Section", 58.0, "Rail section"),
        column("Length", 64.0, "Length"),
        column("Mass", 48.0, "Mass that the plan goes by"),
        column("Tier", 32.0, "Tier, from the bottom"),
        column("Lane", 34.0, "Lane, from the left facing the front"),
        column("Front end", 66.0, "Place of the front end in the train"),
        column("Over-hang front", 56.0, "Beyond the first rack that carries"),
        column("Over-hang rear", 56.0, "Beyond the last rack that carries"),
        column("Racks", 42.0, "Racks under it"),
        column("Largest span", 56.0, "Between racks that carry"),
        column("Sag", 40.0, "Largest sag between racks"),
        column("Held at", 84.0, "Where it is held"),
    ];
    let plan = shown.plan;
    let rows = shown.figures.placed.iter().filter_map(|placed| {
        let (string, placement) = (plan.order.get(placed.string)?, plan.placements.get(placed.placement)?);
        let beam = placed.beam.as_ref().ok();
        let overhang = |m: Option<f64>| Cell::some(shown, m.map(Quantity::length_m));
        let span = beam.map(|beam| beam.spans.iter().map(|span| span.length_m).fold(0.0, f64::max));
        let sag = beam.map(|beam| beam.spans.iter().map(|span| span.sag_m).fold(0.0, f64::max));
        // How a string lies is judged by running values, whatever the state.
        let limit = |kind| plan.limits.accepted(kind).map(|limit| limit.running);
        let whole = checks::Subject::String(placed.string);
        let end = |end| beam.map(|_| checks::Subject::StringEnd(placed.string, end));
        let holds: Vec<String> =
            placement.holds.iter().map(|hold| format!("{} rack {}", hold.vehicle, hold.rack)).collect();
        Some(Row {
            name: format!("String {}", string.mark),
            subject: Subject::String(string.mark.clone()),
            cells: vec![
                Cell::words(string.mark.as_str()),
                Cell::words(string.section.as_str()),
                Cell::figure(shown, Quantity::length(string.length)),
                Cell::figure(shown, Quantity::mass(placed.mass_kg)).of("string-weight", whole),
                Cell::figure(shown, Quantity::count(placement.tier as usize)),
                Cell::figure(shown, Quantity::count(placement.lane as usize)),
                Cell::figure(shown, Quantity::length(placement.front)),
                overhang(beam.map(|beam| beam.front_overhang_m))
                    .against(shown, limit(LimitKind::GreatestOverhang))
                    .of_some("greatest-overhang", end(TrainEnd::Front)),
                overhang(beam.map(|beam| beam.rear_overhang_m))
                    .against(shown, limit(LimitKind::GreatestOverhang))
                    .of_some("greatest-overhang", end(TrainEnd::Rear)),
                Cell::figure(shown, Quantity::count(placed.racks.len())).of("string-support", whole),
                Cell::some(shown, span.map(Quantity::length_m))
                    .against(shown, limit(LimitKind::LargestSpan))
                    .of_some("largest-span", worst_span(placed, |span| span.length_m)),
                Cell::some(shown, sag.map(Quantity::small_length_m))
                    .against(shown, limit(LimitKind::Sag))
                    .of_some("string-sag", worst_span(placed, |span| span.sag_m)),
                Cell::words(if holds.is_empty() { "nowhere".to_owned() } else { holds.join(", ") }),
            ],
        })
    });
    Table { about: units_words(shown), columns, rows: rows.collect() }
}

/// The span of a string where a figure is largest, by the rack that it begins at.
fn worst_span(placed: &PlacedString, figure: impl Fn(&SpanFigures) -> f64) -> Option<checks::Subject> {
    let spans = &placed.beam.as_ref().ok()?.spans;
    let worst = spans.iter().reduce(|a, b| if figure(b) > figure(a) { b } else { a })?;
    Some(checks::Subject::StringAtRack(placed.string, placed.racks.start + worst.from))
}

fn units_words(shown: &Shown<'_>) -> &'static str {
    match shown.style.units {
        crate::units::UnitSystem::Metric => "Masses in t, lengths in m, sag in mm; level and rigid racks",
        crate::units::UnitSystem::UsCustomary => {
            "Masses in short tons, lengths in ft, sag in in; level and rigid racks"
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::OnDisk;
    use crate::gui::{SAMPLES, Theme, Workbench};
    use crate::working::of;

    /// Every number that is worked out has a working whose result is that very number.
    fn check(sample: usize) {
        let workbench = Workbench::new(SAMPLES[sample].plan().unwrap(), OnDisk::Yes);
        let shown = workbench.shown(&Theme::LIGHT, "");
        let mut asked = 0;
        for table in [vehicles(&shown), racks(&shown), strings(&shown)] {
            // The first rows and the last stand for all: bogies in the middle, ends, engines.
            let count = table.rows.len();
            for (at, row) in table.rows.iter().enumerate().filter(|(at, _)| *at < 4 || at + 2 > count) {
                for (cell, column) in row.cells.iter().zip(&table.columns) {
                    let (Some(question), Some(quantity)) = (cell.question, cell.quantity) else { continue };
                    let working = of(shown.figures, Some(0), &question);
                    let words = format!("{sample}, row {at}, {}: {question:?}", column.title);
                    let result = working.and_then(|working| Some(working.result()?.value.value));
                    let result = result.unwrap_or_else(|| panic!("no working: {words}"));
                    let off = (result - quantity.value).abs() / quantity.value.abs().max(1.0e-6);
                    match question.what {
                        // Weight per length, not mass.
                        "string-weight" => {}
                        // The worse of the stiff and the soft body, which stand in columns of their own.
                        "wheel-balance" => assert!(result > quantity.value - 1.0e-9, "{words}"),
                        _ => assert!(off < 1.0e-9, "{words}: {result}, not {}", quantity.value),
                    }
                    asked += 1;
                }
            }
        }
        assert!(asked > 50, "{asked}");
    }

    #[test]
    fn every_number_worked_out_is_the_result_of_the_working_that_it_is_asked_for() {
        // Few wagons, many, and two-axle ones.
        for sample in [0, 1, 4] {
            check(sample);
        }
    }
}
