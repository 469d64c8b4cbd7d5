//! The order and where each string lies as JSON; `JSON.md` describes every field.

use super::json_common::{JsonError, print};
use crate::model::{MassEntry, OrderedString, Placement, Plan, RackRef, StatedBasis, TrackSide};
use serde::Serialize;

/// The order with the place of each string, as one JSON object; `label` says which plan, as its reader knows it.
///
/// # Errors
/// [`JsonError`] where the text cannot be written.
pub fn placements_json(label: &str, plan: &Plan) -> Result<String, JsonError> {
    print(&PlacementsDocument {
        shape: "longstow placements 1",
        file: label,
        title: &plan.title,
        strings: plan.order.iter().map(|string| StringRow::of(plan, string)).collect(),
    })
}

#[derive(Serialize)]
struct PlacementsDocument<'a> {
    shape: &'static str,
    file: &'a str,
    title: &'a str,
    strings: Vec<StringRow<'a>>,
}

#[derive(Serialize)]
struct StringRow<'a> {
    string: &'a str,
    section: &'a str,
    steel: Option<&'a str>,
    length_m: f64,
    side: Option<&'static str>,
    drop: Option<&'a str>,
    mass_kg: Option<f64>,
    mass_basis: &'static str,
    place: Option<PlaceRow<'a>>,
}

#[derive(Serialize)]
struct PlaceRow<'a> {
    tier: u32,
    lane: u32,
    front_m: f64,
    rear_m: f64,
    held_at: Vec<RackRow<'a>>,
    rests_on: Option<SpanRow<'a>>,
    locked: bool,
}

#[derive(Serialize)]
struct SpanRow<'a> {
    first: RackRow<'a>,
    last: RackRow<'a>,
}

#[derive(Serialize)]
struct RackRow<'a> {
    vehicle: &'a str,
    rack: u32,
}

impl<'a> StringRow<'a> {
    fn of(plan: &'a Plan, string: &'a OrderedString) -> Self {
        let (mass_kg, mass_basis) = match string.mass {
            MassEntry::Computed => {
                (plan.section(&string.section).map(|section| section.mass_kg(string.length)), "computed")
            }
            MassEntry::Stated { kg, basis: StatedBasis::Weighed } => (Some(kg), "weighed"),
            MassEntry::Stated { kg, basis: StatedBasis::Document } => (Some(kg), "document"),
        };
        Self {
            string: string.mark.as_str(),
            section: string.section.as_str(),
            steel: string.steel.as_ref().map(|steel| steel.as_str()),
            length_m: string.length.m(),
            side: string.side.map(|side| match side {
                TrackSide::Left => "left",
                TrackSide::Right => "right",
            }),
            drop: string.drop.as_ref().map(|drop| drop.as_str()),
            mass_kg,
            mass_basis,
            place: plan.placement(&string.mark).map(|placement| PlaceRow::of(string, placement)),
        }
    }
}

impl<'a> PlaceRow<'a> {
    fn of(string: &OrderedString, placement: &'a Placement) -> Self {
        let rack = |rack: &'a RackRef| RackRow { vehicle: rack.vehicle.as_str(), rack: rack.rack };
        Self {
            tier: placement.tier,
            lane: placement.lane,
            front_m: placement.front.m(),
            rear_m: (placement.front + string.length).m(),
            held_at: placement.holds.iter().map(rack).collect(),
            rests_on: placement
                .rests_on
                .as_ref()
                .map(|span| SpanRow { first: rack(&span.first), last: rack(&span.last) }),
            locked: placement.locked,
        }
    }
}
