//! What a shape shows, and what it is called.

use super::creep::{creep_gap, creep_words, end_creep};
use super::vehicles::{on_springs, tolerance_bands};
use crate::checks::Subject;
use crate::model::TrainEnd;
use crate::statics::{Figures, PlacedString};
use crate::units::{Quantity, Style};

/// Something on a picture that can be chosen, spoken of or dropped upon.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Thing {
    /// A string, as an index into the order.
    String(usize),
    /// An end of a string, the string as an index into the order.
    StringEnd(usize, TrainEnd),
    /// A hold: the string as an index into the order, the rack as an index into the consist.
    Hold {
        /// The string.
        string: usize,
        /// The rack.
        rack: usize,
    },
    /// A vehicle, as an index into the train.
    Vehicle(usize),
    /// A support of a vehicle (a bogie, or an axle of a two-axle vehicle): 0 front, 1 rear.
    Support {
        /// The vehicle.
        vehicle: usize,
        /// The support.
        support: usize,
    },
    /// An axle of a vehicle, from 0 at the front.
    Axle {
        /// The vehicle.
        vehicle: usize,
        /// The axle.
        axle: usize,
    },
    /// A rack, as an index into the consist.
    Rack(usize),
    /// A pocket of a rack.
    Pocket {
        /// The rack, as an index into the consist.
        rack: usize,
        /// The tier, from 1.
        tier: u32,
        /// The lane, from 1.
        lane: u32,
    },
}

impl Thing {
    /// Where a finding's subject shows itself; none where it is no place on the train.
    pub fn of_subject(subject: Subject) -> Option<Self> {
        Some(match subject {
            Subject::String(string) | Subject::Strings(string, _) => Self::String(string),
            Subject::StringEnd(string, end) => Self::StringEnd(string, end),
            Subject::StringAtRack(_, rack) | Subject::Rack(rack) | Subject::RackTier(rack, _) => {
                Self::Rack(rack)
            }
            Subject::Vehicle(vehicle) => Self::Vehicle(vehicle),
            Subject::Support(vehicle, support) => Self::Support { vehicle, support },
            Subject::Axle(vehicle, axle) | Subject::Wheel(vehicle, axle, _) => Self::Axle { vehicle, axle },
            Subject::Pocket(rack, tier, lane) => Self::Pocket { rack, tier, lane },
            _ => return None,
        })
    }

    /// What it is called, for a screen reader and on hovering, such as `vehicle W3, axle 2`.
    pub fn name(self, figures: &Figures) -> String {
        let subject = match self {
            Self::String(string) => Subject::String(string),
            Self::StringEnd(string, end) => Subject::StringEnd(string, end),
            Self::Hold { string, rack } => {
                let rack = Subject::Rack(rack).place(figures);
                return format!("hold of {} at {rack}", Subject::String(string).place(figures));
            }
            Self::Vehicle(vehicle) => Subject::Vehicle(vehicle),
            Self::Support { vehicle, support } => Subject::Support(vehicle, support),
            Self::Axle { vehicle, axle } => Subject::Axle(vehicle, axle),
            Self::Rack(rack) => Subject::Rack(rack),
            Self::Pocket { rack, tier, lane } => Subject::Pocket(rack, tier, lane),
        };
        subject.place(figures)
    }

    /// Its name and its figures in a state, in a sentence or two.
    pub fn describe(self, figures: &Figures, state: usize, style: Style) -> String {
        let name = self.name(figures);
        let more = match self {
            Self::String(string) => string_words(figures, state, string, style),
            Self::StringEnd(string, end) => end_words(figures, state, string, end, style),
            Self::Hold { .. } => None,
            Self::Vehicle(vehicle) => vehicle_words(figures, state, vehicle, style),
            Self::Support { vehicle, support } => support_words(figures, state, vehicle, support, style),
            Self::Axle { vehicle, axle } => axle_words(figures, state, vehicle, axle, style),
            Self::Rack(rack) => rack_words(figures, state, rack, style),
            Self::Pocket { rack, tier, lane } => pocket_words(figures, state, (rack, tier, lane), style),
        };
        match more {
            Some(more) => format!("{name}: {more}"),
            None => name,
        }
    }
}

fn on_train(figures: &Figures, state: usize, string: usize) -> Option<&PlacedString> {
    figures.present(state).find(|placed| placed.string == string)
}

fn string_words(figures: &Figures, state: usize, string: usize, style: Style) -> Option<String> {
    let ordered = figures.plan.order.get(string)?;
    let length = Quantity::length(ordered.length).show(style);
    let Some(placed) = on_train(figures, state, string) else {
        return Some(format!("{} of {}, not on the train", length, ordered.section));
    };
    let placement = figures.plan.placements.get(placed.placement)?;
    Some(format!(
        "{length} of {}, {}, tier {} lane {}, front end at {}, rear end at {}, on {} racks",
        ordered.section,
        Quantity::mass(placed.mass_kg).show(style),
        placement.tier,
        placement.lane,
        Quantity::length(placed.front).show(style),
        Quantity::length(placed.rear).show(style),
        placed.racks.len(),
    ))
}

fn end_words(figures: &Figures, state: usize, string: usize, end: TrainEnd, style: Style) -> Option<String> {
    let placed = on_train(figures, state, string)?;
    let racks = figures.consist.racks.get(placed.racks.clone())?;
    let (x, overhang) = match end {
        TrainEnd::Front => (placed.front, racks.first().map(|rack| rack.x - placed.front)),
        TrainEnd::Rear => (placed.rear, racks.last().map(|rack| placed.rear - rack.x)),
    };
    let at = Quantity::length(x).show(style);
    let mut words = match overhang {
        Some(overhang) => format!("at {at}, overhang {}", Quantity::length(overhang).show(style)),
        None => format!("at {at}, on no rack"),
    };
    if let Some(creep) =
        end_creep(figures, placed).and_then(|ends| ends.iter().find(|creep| creep.end == end))
    {
        words.push_str(&format!(", {}", creep_words(&creep.over_last, style)));
    } else if let Some(gap) = creep_gap(figures, placed) {
        words.push_str(&format!(", creep not known: {gap}"));
    }
    Some(words)
}

fn vehicle_words(figures: &Figures, state: usize, vehicle: usize, style: Style) -> Option<String> {
    let loads = figures.state(state)?.vehicles.get(vehicle)?;
    Some(format!(
        "load {}, gross {}, {}",
        Quantity::mass(loads.payload_kg).show(style),
        Quantity::mass(loads.gross_kg).show(style),
        Quantity::mass_per_length(loads.mass_per_metre_kg).show(style),
    ))
}

fn support_words(
    figures: &Figures,
    state: usize,
    vehicle: usize,
    support: usize,
    style: Style,
) -> Option<String> {
    let loads = figures.state(state)?.vehicles.get(vehicle)?.supports.get(support)?;
    Some(format!(
        "{}, left to right wheels {} at worst",
        Quantity::mass(loads.load_kg).show(style),
        Quantity::ratio(loads.worse_ratio()).show(style),
    ))
}

fn axle_words(figures: &Figures, state: usize, vehicle: usize, axle: usize, style: Style) -> Option<String> {
    let place = figures.consist.vehicles.get(vehicle)?;
    let support = axle / (place.axles_per_support.max(1) as usize);
    let loads = figures.state(state)?.vehicles.get(vehicle)?.supports.get(support)?;
    let kind = figures.plan.train.vehicle_types.get(place.vehicle_type)?;
    let [rating, class] = figures.plan.axle_ratings_kg(kind);
    let rated = |kg: Option<f64>| kg.map_or("not entered".to_owned(), |kg| Quantity::mass(kg).show(style));
    let mass = |kg: f64| Quantity::mass(kg).show(style);
    let springs = on_springs(figures, state).and_then(|loads| loads.get(vehicle));
    let springs = springs.map(|loads| format!(", on springs {}", mass(loads.supports[support].axle_kg)));
    let band = tolerance_bands(figures, state).and_then(|bands| bands.get(vehicle));
    let band = band.map(|bands| format!(", tolerances {} either way", mass(bands[support].axle_kg)));
    Some(format!(
        "{}{}{}, rating {}, line class {}, larger wheel {}",
        mass(loads.axle_kg),
        springs.unwrap_or_default(),
        band.unwrap_or_default(),
        rated(rating),
        rated(class),
        mass(loads.largest_wheel_kg()),
    ))
}

fn rack_words(figures: &Figures, state: usize, rack: usize, style: Style) -> Option<String> {
    let place = figures.consist.racks.get(rack)?;
    let rating = figures.plan.train.rack_types.get(place.rack_type)?.rack_rating_kg;
    let load = Quantity::mass(figures.state(state)?.rack_kg(rack)).show(style);
    let at = Quantity::length(place.x).show(style);
    Some(match rating {
        Some(rating) => format!("at {at}, {load} of at most {}", Quantity::mass(rating).show(style)),
        None => format!("at {at}, {load}, rating not entered"),
    })
}

fn pocket_words(figures: &Figures, state: usize, pocket: (usize, u32, u32), style: Style) -> Option<String> {
    let (rack, tier, lane) = pocket;
    let mut taken = figures.present(state).filter(|placed| placed.racks.contains(&rack)).filter(|placed| {
        let placement = figures.plan.placements.get(placed.placement);
        placement.is_some_and(|placement| placement.tier == tier && placement.lane == lane)
    });
    let Some(placed) = taken.next() else { return Some("empty".to_owned()) };
    let mark = &figures.plan.order.get(placed.string)?.mark;
    let carried = placed.carried_kg.get(rack - placed.racks.start);
    Some(match carried {
        Some(kg) => format!("string {mark}, {}", Quantity::mass(*kg).show(style)),
        None => format!("string {mark}, load not known"),
    })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{figures, plan};
    use super::*;
    use crate::fixtures::place;

    fn check(thing: Thing, name: &str, description: &str) {
        let figures = figures(plan());
        assert_eq!(thing.name(&figures), name);
        let described = thing.describe(&figures, 0, Style::default());
        assert!(described.starts_with(name) && described.ends_with(description), "{described}");
    }

    // 15 m of 60.21 kg/m are 0.903 t; the first rack is at 3.317 m, 1.317 m behind the front end.
    // Its middle is 0.45 m ahead of the wagon's: the rear bogie has 12 + 0.903 (1/2 - 0.45/14.2) = 12.42 t, an
    // axle 6.21 t; 0.4 m to the left, shared half and half, adds 0.903 x 0.4 / 2 / 1.5 / 2 = 0.06 t to a left wheel.
    #[test]
    fn things_are_named_and_described_with_their_figures() {
        check(
            Thing::String(0),
            "string S1",
            ": 15.000 m of 60E1, 0.90 t, tier 2 lane 4, front end at 2.000 m, rear end at 17.000 m, on 3 racks",
        );
        let end = Thing::StringEnd(0, TrainEnd::Front);
        check(end, "string S1, front end", ": at 2.000 m, overhang 1.317 m");
        check(Thing::Hold { string: 0, rack: 1 }, "hold of string S1 at vehicle W1 rack 2", "rack 2");
        check(Thing::Vehicle(0), "vehicle W1", ": load 0.90 t, gross 24.90 t, 1.25 t/m");
        let axle = Thing::Axle { vehicle: 0, axle: 3 };
        check(axle, "vehicle W1, axle 4", "rating 22.50 t, line class 22.50 t, larger wheel 3.17 t");
        let support = Thing::Support { vehicle: 0, support: 1 };
        check(support, "vehicle W1, rear bogie", " at worst");
        check(Thing::Rack(1), "vehicle W1 rack 2", " of at most 30.00 t");
        let empty = Thing::Pocket { rack: 1, tier: 1, lane: 1 };
        check(empty, "vehicle W1 rack 2, tier 1 lane 1", ": empty");
    }

    #[test]
    fn a_taken_pocket_names_its_string_and_what_it_carries() {
        let figures = figures(plan());
        let pocket = Thing::Pocket { rack: 1, tier: 2, lane: 4 };
        let described = pocket.describe(&figures, 0, Style::default());
        let carried = Quantity::mass(figures.placed[0].carried_kg[1]).show(Style::default());
        assert_eq!(described, format!("vehicle W1 rack 2, tier 2 lane 4: string S1, {carried}"));
    }

    #[test]
    fn a_string_in_the_yard_and_one_on_no_rack_are_told_as_such() {
        let mut odd = plan();
        place(&mut odd, "S2", 2_000, (1, 1, -5_000));
        odd.placements.swap_remove(0);
        let figures = figures(odd);
        let described = |thing: Thing| thing.describe(&figures, 0, Style::default());
        assert_eq!(described(Thing::String(0)), "string S1: 15.000 m of 60E1, not on the train");
        let end = Thing::StringEnd(1, TrainEnd::Rear);
        assert_eq!(described(end), "string S2, rear end: at -3.000 m, on no rack");
    }

    #[test]
    fn findings_show_themselves_where_their_subject_is() {
        assert_eq!(Thing::of_subject(Subject::StringAtRack(3, 7)), Some(Thing::Rack(7)));
        assert_eq!(Thing::of_subject(Subject::Strings(1, 2)), Some(Thing::String(1)));
        assert_eq!(Thing::of_subject(Subject::Plan), None);
    }
}
