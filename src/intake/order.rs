//! Strings of the order, a row each.

use super::cells::{Cells, Spellings, Told};
use super::fate::Refusal;
use super::keyed::TakenRow;
use super::kinds::Kind;
use super::names::{NameKind, Names, named};
use crate::edit::{Edit, Rows};
use crate::model::{MassEntry, OrderedString, StatedBasis, StringMark, TrackSide};
use crate::units::{Length, Style};

const SIDES: &Spellings<TrackSide> = &[
    (TrackSide::Left, &["left", "l", "lh", "left hand", "links", "gauche"]),
    (TrackSide::Right, &["right", "r", "rh", "right hand", "rechts", "droite"]),
];

/// How a mass was found; none: it is computed.
const BASES: &Spellings<Option<StatedBasis>> = &[
    (Some(StatedBasis::Weighed), &["weighed", "scale", "weighbridge", "measured"]),
    (Some(StatedBasis::Document), &["document", "stated", "certificate", "delivery note", "given"]),
    (None, &["computed", "calculated", "reckoned"]),
];

impl TakenRow for OrderedString {
    const KIND: Kind = Kind::Order;
    const KEY: &'static str = "mark";

    fn read(
        cells: Cells<'_>,
        mark: StringMark,
        old: Option<&Self>,
        names: &mut Names<'_>,
    ) -> Result<Self, Refusal> {
        let section = match cells.words("section")? {
            Some(words) => named(NameKind::Section, &names.find(NameKind::Section, words)?)?,
            None => old.map(|old| old.section.clone()).ok_or_else(|| cells.missing("section"))?,
        };
        let steel = match cells.words("steel")? {
            Some(words) => Some(named(NameKind::Steel, &names.find(NameKind::Steel, words)?)?),
            None => old.and_then(|old| old.steel.clone()),
        };
        let length = match length(cells)? {
            Some(length) => length,
            None => old.map(|old| old.length).ok_or_else(|| cells.missing("length"))?,
        };
        let side = cells.choice("side", SIDES)?.or(old.and_then(|old| old.side));
        let drop = match cells.words("drop")? {
            Some(words) => Some(named(NameKind::Drop, &names.find(NameKind::Drop, words)?)?),
            None => old.and_then(|old| old.drop.clone()),
        };
        let computed_kg = names.section_mass_kg(&section, length);
        let mass = mass(cells, old.map_or(MassEntry::Computed, |old| old.mass), (computed_kg, names))?;
        Ok(Self { mark, section, steel, length, side, drop, mass })
    }

    fn told(&self, style: Style) -> Vec<Told> {
        let (kg, basis) = match self.mass {
            MassEntry::Computed => (None, "computed"),
            MassEntry::Stated { kg, basis: StatedBasis::Weighed } => (Some(kg), "weighed"),
            MassEntry::Stated { kg, basis: StatedBasis::Document } => (Some(kg), "document"),
        };
        let side = self.side.map(|side| match side {
            TrackSide::Left => "left",
            TrackSide::Right => "right",
        });
        vec![
            Told::words(Some(self.mark.as_str())),
            Told::words(Some(self.section.as_str())),
            Told::length(self.length, style),
            Told::words(side),
            Told::words(self.drop.as_ref().map(|drop| drop.as_str())),
            Told::mass(kg, style),
            Told::words(Some(basis)),
            Told::words(self.steel.as_ref().map(|steel| steel.as_str())),
        ]
    }

    fn edit(rows: Rows<Self>) -> Edit {
        Edit::Strings(rows)
    }
}

fn length(cells: Cells<'_>) -> Result<Option<Length>, Refusal> {
    let Some(mm) = cells.number("length")? else { return Ok(None) };
    let longest = OrderedString::LONGEST;
    if mm < 0.5 {
        return Err(cells.refused("length", "it must be above zero"));
    }
    if mm > longest.mm() as f64 {
        let why = format!("a string is {} m long at most; is the unit right?", longest.m());
        return Err(cells.refused("length", why));
    }
    Ok(Some(Length::from_mm_rounded(mm)))
}

/// The mass that the plan goes by, from the mass and its basis, of which either may be left out.
fn mass(
    cells: Cells<'_>,
    old: MassEntry,
    (computed_kg, names): (Option<f64>, &mut Names<'_>),
) -> Result<MassEntry, Refusal> {
    let stated = cells.positive("mass")?;
    let basis = cells.choice("mass-basis", BASES)?;
    match (stated, basis, old) {
        (None, None, old) => Ok(old),
        (stated, Some(None), _) => {
            // A table that was put out holds the computed mass itself.
            let is_other = |kg: f64| computed_kg.is_none_or(|own| (kg - own).abs() > own * 1.0e-3);
            if stated.is_some_and(is_other) {
                names.notes.push("its mass is computed, so the one written is not used".to_owned());
            }
            Ok(MassEntry::Computed)
        }
        (Some(kg), Some(Some(basis)), _) => Ok(MassEntry::Stated { kg, basis }),
        (Some(kg), None, MassEntry::Stated { basis, .. }) => Ok(MassEntry::Stated { kg, basis }),
        (Some(kg), None, MassEntry::Computed) => Ok(MassEntry::Stated { kg, basis: StatedBasis::Document }),
        (None, Some(Some(basis)), MassEntry::Stated { kg, .. }) => Ok(MassEntry::Stated { kg, basis }),
        (None, Some(Some(_)), MassEntry::Computed) => {
            Err(cells.refused("mass-basis", "there is no mass; write it, or write computed"))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{after, fates, plan, refused};
    use super::*;
    use crate::model::Plan;

    fn check(rows: &str, expected: &[&str]) {
        assert_eq!(fates(Kind::Order, &plan(), rows), expected, "{rows}");
    }

    fn string<'p>(plan: &'p Plan, mark: &str) -> &'p OrderedString {
        plan.string(&mark.parse().unwrap()).unwrap()
    }

    #[test]
    fn rows_are_new_or_change_what_has_their_mark_or_say_what_is_there() {
        check(
            "mark;section;length (m)\nS1;60E1;18\nS2;60E1;17,5\nN1;60E1;108\n",
            &[
                "1 skipped: the headers",
                "2 unchanged: as in the plan",
                "3 changes: Length 18.000 m -> 17.500 m",
                "4 new: ",
            ],
        );
    }

    #[test]
    fn an_empty_cell_changes_nothing_and_a_string_keeps_its_place() {
        let changed = after(Kind::Order, &plan(), "mark,length mm,section,side\nS1,18500,,left\n");
        let (old, new) = (plan(), string(&changed, "S1").clone());
        assert_eq!(new.length, Length::from_mm(18_500));
        assert_eq!((new.section, new.side), (string(&old, "S1").section.clone(), Some(TrackSide::Left)));
        assert_eq!(changed.placements, old.placements);
    }

    #[test]
    fn rows_with_one_mark_are_taken_once_if_they_say_the_same_and_not_at_all_if_they_differ() {
        check(
            "mark,section,length m\nN1,60E1,10\nN2,60E1,10\nN1,60E1,10.0\nN2,60E1,11\n",
            &[
                "1 skipped: the headers",
                "2 new: ",
                "3 refused: Mark \"N2\": lines 3, 5 have the same and differ; leave the right one",
                "4 skipped: says the same as line 2",
                "5 refused: Mark \"N2\": lines 3, 5 have the same and differ; leave the right one",
            ],
        );
    }

    #[test]
    fn a_row_is_not_taken_where_another_with_its_mark_cannot_be_read() {
        let why = "Mark \"N1\": lines 2, 3 have the same, of which 3 cannot be read; leave the right one";
        // A word for a number, and a decimal comma that makes a cell too many.
        for unread in ["N1,60E1,abc", "N1,60E1,10,5", "N1,None,10"] {
            let told =
                refused(Kind::Order, &plan(), &format!("mark,section,length m\nN1,60E1,10.5\n{unread}\n"));
            assert!(told.len() == 2 && told[0] == why && !told[1].contains("lines"), "{unread}: {told:?}");
        }
        let rows = "mark,section,length m\nN1,60E1,abc\nN2,60E1,20\nN1,60E1,10\nN1,60E1,10\n";
        let told = fates(Kind::Order, &plan(), rows);
        let why = "refused: Mark \"N1\": lines 2, 4, 5 have the same, of which 2 cannot be read; leave the right one";
        assert!(
            told[2].starts_with("3 new") && told[3] == format!("4 {why}") && told[4] == format!("5 {why}"),
            "{told:?}"
        );
        // What names no row that could be taken is nobody's twin.
        check(
            "mark,section,length m\n,60E1,10\n,60E1,10\nN1,60E1,10\n",
            &[
                "1 skipped: the headers",
                "2 refused: Mark: it is empty; a new row must say it",
                "3 refused: Mark: it is empty; a new row must say it",
                "4 new: ",
            ],
        );
    }

    #[test]
    fn what_a_row_cannot_do_without_is_asked_for() {
        let why = |rows| refused(Kind::Order, &plan(), rows);
        assert_eq!(why("mark,length m\nN1,10\n"), ["Section: no column holds it; say which does"]);
        assert_eq!(why("mark,section,length m\nN1,60E1,\n"), ["Length: it is empty; a new row must say it"]);
        assert_eq!(why("mark,section,length m\n,60E1,10\n"), ["Mark: it is empty; a new row must say it"]);
        let unit = "Length \"10\": it has no unit; say the unit of the column, or write it in the cell";
        assert_eq!(why("mark,section,length\nN1,60E1,10\n"), [unit]);
        assert_eq!(why("mark,section,length m\nN1,60E1,0\n"), ["Length \"0\": it must be above zero"]);
        assert_eq!(why("mark,section,length mm\nN1,60E1,0.4\n"), ["Length \"0.4\": it must be above zero"]);
        assert_eq!(why("mark,section,length mm\nN1,60E1,5000000\n"), [""; 0]);
        let long = "Length \"5000001\": a string is 5000 m long at most; is the unit right?";
        assert_eq!(why("mark,section,length mm\nN1,60E1,5000001\n"), [long]);
        assert_eq!(why("mark,section,length m,side\nN1,60E1,10,up\n"), ["Side \"up\": write left or right"]);
    }

    #[test]
    fn masses_go_by_their_basis_and_without_one_by_a_document() {
        let of = |rows: &str| string(&after(Kind::Order, &plan(), rows), "S1").mass;
        let stated = |kg, basis| MassEntry::Stated { kg, basis };
        assert_eq!(of("mark,mass kg\nS1,1080\n"), stated(1_080.0, StatedBasis::Document));
        assert_eq!(of("mark,mass t,basis\nS1,1.08,weighed\n"), stated(1_080.0, StatedBasis::Weighed));
        let rows = "mark,mass t,basis\nS1,1.08,computed\n";
        let told = "2 unchanged: as in the plan; its mass is computed, so the one written is not used";
        assert_eq!(fates(Kind::Order, &plan(), rows)[1], told);
        let basis = "Mass basis \"weighed\": there is no mass; write it, or write computed";
        assert_eq!(refused(Kind::Order, &plan(), "mark,basis\nS1,weighed\n"), [basis]);
        assert_eq!(
            refused(Kind::Order, &plan(), "mark,mass t\nS1,0\n"),
            ["Mass \"0\": it must be above zero"]
        );
    }
}
