//! Rail sections, a row each.

use super::cells::{Cells, Told};
use super::fate::Refusal;
use super::keyed::TakenRow;
use super::kinds::Kind;
use super::names::Names;
use crate::edit::{Edit, Rows};
use crate::model::{RailSection, SectionName, Source, Sureness};
use crate::units::Style;

impl TakenRow for RailSection {
    const KIND: Kind = Kind::Sections;
    const KEY: &'static str = "name";

    fn read(
        cells: Cells<'_>,
        name: SectionName,
        old: Option<&Self>,
        _names: &mut Names<'_>,
    ) -> Result<Self, Refusal> {
        let needed = |key, old: Option<f64>| cells.positive(key)?.or(old).ok_or_else(|| cells.missing(key));
        let optional = |key, old: Option<Option<f64>>| Ok(cells.positive(key)?.or(old.flatten()));
        let mut row = Self {
            name,
            mass_kg_per_m: needed("mass", old.map(|old| old.mass_kg_per_m))?,
            area_cm2: needed("area", old.map(|old| old.area_cm2))?,
            ix_cm4: needed("ix", old.map(|old| old.ix_cm4))?,
            iy_cm4: optional("iy", old.map(|old| old.iy_cm4))?,
            height_mm: optional("height", old.map(|old| old.height_mm))?,
            foot_mm: optional("foot", old.map(|old| old.foot_mm))?,
            head_mm: optional("head", old.map(|old| old.head_mm))?,
            web_mm: optional("web", old.map(|old| old.web_mm))?,
            neutral_axis_mm: optional("axis", old.map(|old| old.neutral_axis_mm))?,
            wx_head_cm3: optional("wx-head", old.map(|old| old.wx_head_cm3))?,
            wx_foot_cm3: optional("wx-foot", old.map(|old| old.wx_foot_cm3))?,
            wy_foot_cm3: optional("wy-foot", old.map(|old| old.wy_foot_cm3))?,
            source: old.map_or_else(from_a_table, |old| old.source.clone()),
        };
        match cells.words("source")? {
            Some(text) => row.source = Source { text: text.to_owned(), sure: Sureness::Entered },
            // Figures that are changed come no longer from where the old ones came.
            None if old.is_some_and(|old| row != *old) => row.source = from_a_table(),
            None => {}
        }
        Ok(row)
    }

    fn told(&self, style: Style) -> Vec<Told> {
        let numbers = [
            Some(self.mass_kg_per_m),
            Some(self.area_cm2),
            Some(self.ix_cm4),
            self.iy_cm4,
            self.height_mm,
            self.foot_mm,
            self.head_mm,
            self.web_mm,
            self.neutral_axis_mm,
            self.wx_head_cm3,
            self.wx_foot_cm3,
            self.wy_foot_cm3,
        ];
        let fields = Self::KIND.fields().iter().skip(1);
        let numbers = fields.zip(numbers).map(|(field, number)| Told::number(number, field.measure, style));
        let mut told = vec![Told::words(Some(self.name.as_str()))];
        told.extend(numbers);
        told.push(Told::words(Some(&self.source.text)));
        told
    }

    fn edit(rows: Rows<Self>) -> Edit {
        Edit::Sections(rows)
    }
}

fn from_a_table() -> Source {
    Source { text: "taken in from a table".to_owned(), sure: Sureness::Entered }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{after, fates, plan, refused};
    use super::*;

    #[test]
    fn sections_are_added_in_any_units_and_changed_by_name() {
        let rows = "Name\tMass (lb/yd)\tArea (in2)\tIx (in4)\nOwn\t136\t13,25\t94\n";
        let added = after(Kind::Sections, &plan(), rows);
        let own = added.section(&"Own".parse().unwrap()).unwrap();
        // 136 lb/yd: 136 x 0.45359237 / 0.9144 = 67.463 kg/m.
        assert!((own.mass_kg_per_m - 67.463).abs() < 0.001);
        assert!((own.area_cm2 - 85.484).abs() < 0.001 && (own.ix_cm4 - 3_912.575).abs() < 0.001);
        assert_eq!((own.iy_cm4, own.source.text.as_str()), (None, "taken in from a table"));
        let row = fates(Kind::Sections, &plan(), "name,mass kg/m\n60E1,61\n");
        assert!(row[1].contains("Mass per length") && row[1].contains("Source"), "{row:?}");
    }

    #[test]
    fn a_new_section_needs_its_figures_above_zero() {
        let why = |rows| refused(Kind::Sections, &plan(), rows);
        assert_eq!(
            why("name,mass kg/m,area cm2\nOwn,60,70\n"),
            ["Second moment, horizontal axis: no column holds it; say which does"]
        );
        assert_eq!(why("name,height mm\n60E1,-1\n"), ["Height \"-1\": it must be above zero"]);
    }
}
