//! What differs of rail sections and steels.

use super::matching::Row;
use super::told::{Teller, number, of, small_mm};
use super::{ChangeTopic, ChangedThing};
use crate::model::{RailSection, SectionName, Steel, SteelName};
use crate::text;
use crate::units::{Quantity, QuantityKind, Text};

impl Row for RailSection {
    type Key = SectionName;
    const TOPIC: ChangeTopic = ChangeTopic::Sections;
    const THERE: &'static str = "described";
    const PLACE: &'static str = "place among the sections";

    fn key(&self) -> SectionName {
        self.name.clone()
    }

    fn thing(&self) -> ChangedThing {
        ChangedThing::Section(self.name.clone())
    }

    fn words(&self) -> Text {
        text![of(QuantityKind::SmallMass, 1.0)(self.mass_kg_per_m), " per m"]
    }

    fn compare(&self, after: &Self, teller: &mut Teller<'_>) {
        let Self {
            name: _,
            mass_kg_per_m,
            area_cm2,
            ix_cm4,
            iy_cm4,
            height_mm,
            foot_mm,
            head_mm,
            web_mm,
            neutral_axis_mm,
            wx_head_cm3,
            wx_foot_cm3,
            wy_foot_cm3,
            source,
        } = self;
        teller.tell("mass", number(*mass_kg_per_m, "kg/m"), number(after.mass_kg_per_m, "kg/m"));
        let area = of(QuantityKind::Area, 1.0e-4);
        teller.tell("area", area(*area_cm2), area(after.area_cm2));
        let second = of(QuantityKind::SecondMoment, 1.0e-8);
        teller.tell("Ix", second(*ix_cm4), second(after.ix_cm4));
        teller.tell("Iy", iy_cm4.map(&second), after.iy_cm4.map(&second));
        for (aspect, one, two) in [
            ("height", height_mm, after.height_mm),
            ("foot width", foot_mm, after.foot_mm),
            ("head width", head_mm, after.head_mm),
            ("web thickness", web_mm, after.web_mm),
            ("neutral axis", neutral_axis_mm, after.neutral_axis_mm),
        ] {
            teller.tell(aspect, one.map(small_mm), two.map(small_mm));
        }
        let modulus = of(QuantityKind::SectionModulus, 1.0e-6);
        for (aspect, one, two) in [
            ("Wx at the head", wx_head_cm3, after.wx_head_cm3),
            ("Wx at the foot", wx_foot_cm3, after.wx_foot_cm3),
            ("Wy at the foot's edge", wy_foot_cm3, after.wy_foot_cm3),
        ] {
            teller.tell(aspect, one.map(&modulus), two.map(&modulus));
        }
        teller.tell("source", source, &after.source);
    }
}

impl Row for Steel {
    type Key = SteelName;
    const TOPIC: ChangeTopic = ChangeTopic::Sections;
    const THERE: &'static str = "described";
    const PLACE: &'static str = "place among the steels";

    fn key(&self) -> SteelName {
        self.name.clone()
    }

    fn thing(&self) -> ChangedThing {
        ChangedThing::Steel(self.name.clone())
    }

    fn words(&self) -> Text {
        text!["E ", number_gpa(self.modulus_gpa)]
    }

    fn compare(&self, after: &Self, teller: &mut Teller<'_>) {
        let Self {
            name: _,
            modulus_gpa,
            expansion_1e6_per_k,
            density_kg_per_m3,
            tensile_mpa,
            yield_mpa,
            handling_mpa,
            source,
        } = self;
        teller.tell("modulus of elasticity", number_gpa(*modulus_gpa), number_gpa(after.modulus_gpa));
        let expansion = |value: f64| number(value, "per million and K");
        teller.tell(
            "expansion",
            expansion_1e6_per_k.map(expansion),
            after.expansion_1e6_per_k.map(expansion),
        );
        let density = |value: f64| number(value, "kg/m3");
        teller.tell("density", density_kg_per_m3.map(density), after.density_kg_per_m3.map(density));
        let stress = of(QuantityKind::Stress, 1.0e6);
        for (aspect, one, two) in [
            ("tensile strength", tensile_mpa, after.tensile_mpa),
            ("yield stress", yield_mpa, after.yield_mpa),
            ("stress while handling", handling_mpa, after.handling_mpa),
        ] {
            teller.tell(aspect, one.map(&stress), two.map(&stress));
        }
        teller.tell("source", source, &after.source);
    }
}

fn number_gpa(gpa: f64) -> Quantity {
    of(QuantityKind::Stress, 1.0e9)(gpa)
}
