//! `longstow drawing`: one drawing of a plan as SVG.

use super::exit::Exit;
use super::plans::{StateChoice, figures_at};
use super::sheet::Target;
use super::streams::Streams;
use crate::drawing::{DeckLook, Tiers};
use crate::report::sheet::{DrawingOf, drawing_svg};
use crate::statics::Figures;
use std::path::PathBuf;

/// The `drawing` command.
#[derive(Clone, Debug, PartialEq)]
pub struct DrawingCommand {
    pub(super) plan: PathBuf,
    pub(super) of: Wished,
    pub(super) state: usize,
    pub(super) target: Target,
}

/// Which drawing is wished for.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Wished {
    /// The train from its left side.
    #[default]
    TrainSide,
    /// The train from above.
    DeckPlan(DeckLook),
    /// The face of a rack, by its vehicle's mark and its number from the front.
    RackFace(String, u32),
}

impl DrawingCommand {
    /// Writes the drawing; the exit is 0, or 2 where nothing could be written: a drawing judges nothing.
    pub(super) fn run(&self, streams: &mut Streams) -> Exit {
        let label = self.plan.display().to_string();
        match self.write() {
            Ok(told) => {
                streams.print_text(&told);
                Exit::Done
            }
            Err(message) => {
                message.lines().for_each(|line| streams.tell(&format!("{label}: {line}")));
                Exit::CouldNotRun
            }
        }
    }

    fn write(&self) -> Result<String, String> {
        self.target.must_not_be(&self.plan)?;
        let figures = figures_at(&self.plan, StateChoice::One(self.state))?;
        let of = match &self.of {
            Wished::TrainSide => DrawingOf::TrainSide,
            Wished::DeckPlan(look) => DrawingOf::DeckPlan(there(&figures, *look)?),
            Wished::RackFace(vehicle, number) => DrawingOf::RackFace(rack(&figures, vehicle, *number)?),
        };
        let svg = drawing_svg(&figures, of, self.state, self.target.style(&figures));
        self.target.save(&self.plan, svg.as_bytes())?;
        Ok(format!("The drawing is in {}.", self.target.file.display()))
    }
}

/// A look at tiers that the racks have, or how many these are.
fn there(figures: &Figures, look: DeckLook) -> Result<DeckLook, String> {
    let Tiers::Only(tier) = look.tiers else { return Ok(look) };
    let kinds =
        figures.consist.racks.iter().filter_map(|rack| figures.plan.train.rack_types.get(rack.rack_type));
    let tiers = kinds.map(|kind| kind.tiers.len()).max().unwrap_or(0);
    match (1..=tiers).contains(&(tier as usize)) {
        true => Ok(look),
        false => Err(format!("its racks have no tier {tier}: they have {tiers}")),
    }
}

/// Index of the rack so named, or what there is instead.
fn rack(figures: &Figures, vehicle: &str, number: u32) -> Result<usize, String> {
    let vehicles = &figures.plan.train.vehicles;
    let at = vehicles.iter().position(|candidate| candidate.mark.as_str() == vehicle);
    let place = at.and_then(|at| figures.consist.vehicles.get(at));
    let place = place.ok_or_else(|| {
        let known: Vec<&str> = vehicles.iter().map(|vehicle| vehicle.mark.as_str()).take(12).collect();
        format!("it has no vehicle {vehicle}; its vehicles begin with {}", known.join(", "))
    })?;
    let rack = place.racks.start + (number as usize).saturating_sub(1);
    match number > 0 && place.racks.contains(&rack) {
        true => Ok(rack),
        false => Err(format!("{vehicle} has no rack {number}: it has {}", place.racks.len())),
    }
}
