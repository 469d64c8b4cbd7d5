//! Rail sections and steels, as the plan's own copies.

use super::{SectionName, Source, SteelName};
use crate::units::Length;

/// A rail section: mass and section properties about the horizontal (x) and vertical (y) axes.
#[derive(Clone, Debug, PartialEq)]
pub struct RailSection {
    /// Its name, such as `60E1`.
    pub name: SectionName,
    /// Mass per length in kg/m, above zero.
    pub mass_kg_per_m: f64,
    /// Area in cm2, above zero.
    pub area_cm2: f64,
    /// Second moment of area about the horizontal axis in cm4, above zero.
    pub ix_cm4: f64,
    /// Second moment of area about the vertical axis in cm4.
    pub iy_cm4: Option<f64>,
    /// Height in mm.
    pub height_mm: Option<f64>,
    /// Foot width in mm.
    pub foot_mm: Option<f64>,
    /// Head width in mm.
    pub head_mm: Option<f64>,
    /// Web thickness in mm.
    pub web_mm: Option<f64>,
    /// Height of the neutral axis (and centroid) above the foot in mm.
    pub neutral_axis_mm: Option<f64>,
    /// Section modulus at the head in cm3.
    pub wx_head_cm3: Option<f64>,
    /// Section modulus at the foot in cm3.
    pub wx_foot_cm3: Option<f64>,
    /// Section modulus of the foot edge about the vertical axis in cm3.
    pub wy_foot_cm3: Option<f64>,
    /// Where the row comes from.
    pub source: Source,
}

impl RailSection {
    /// Section modulus of the foot's edge about the vertical axis in m3: as entered, else Iy over half the foot.
    pub fn foot_side_modulus_m3(&self) -> Option<f64> {
        let from_foot_cm3 = || Some(self.iy_cm4? / (self.foot_mm? / 20.0));
        self.wy_foot_cm3.or_else(from_foot_cm3).map(|cm3| cm3 * 1.0e-6)
    }

    /// Mass of a string of this section in kg.
    pub fn mass_kg(&self, length: Length) -> f64 {
        self.mass_kg_per_m * length.m()
    }
}

/// A rail steel: stiffness, expansion and the stresses it may see.
#[derive(Clone, Debug, PartialEq)]
pub struct Steel {
    /// Its name, such as `R260`.
    pub name: SteelName,
    /// Modulus of elasticity in GPa.
    pub modulus_gpa: f64,
    /// Thermal expansion in 1e-6 per K.
    pub expansion_1e6_per_k: Option<f64>,
    /// Density in kg/m3.
    pub density_kg_per_m3: Option<f64>,
    /// Minimum tensile strength in MPa.
    pub tensile_mpa: Option<f64>,
    /// Yield or 0.2 % proof stress in MPa; EN 13674-1 fixes none.
    pub yield_mpa: Option<f64>,
    /// Largest stress allowed while handling in MPa.
    pub handling_mpa: Option<f64>,
    /// Where the row comes from.
    pub source: Source,
}
