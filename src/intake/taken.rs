//! A table taken in: every line's fate, what is still to be said, and the edit.

use super::cells::first_words;
use super::choices::Choices;
use super::fate::{Counts, Fate, RowFate, Skip};
use super::field::{Field, Need};
use super::keyed::{self, Reading};
use super::kinds::Kind;
use super::matching::{Matching, Unread};
use super::names::{Names, Unknown};
use super::steps;
use crate::edit::Edit;
use crate::format::Table;
use crate::model::{Catalogue, OrderedString, Plan, RailSection, StringMark, Vehicle};
use crate::units::Style;

/// What a table is taken in among.
#[derive(Clone, Copy, Debug)]
pub struct Surroundings<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// The catalogue, from which sections, steels and vehicle types may be copied.
    pub catalogue: &'a Catalogue,
    /// How figures are shown; it does not bear on how the table is read.
    pub style: Style,
}

/// A table as it would be taken in.
#[derive(Clone, Debug, PartialEq)]
pub struct Intake {
    /// What the table holds.
    pub kind: Kind,
    /// Which column holds what.
    pub matching: Matching,
    /// One for each line of the table, in order.
    pub rows: Vec<RowFate>,
    /// Names that the plan does not have, whether or not somebody said what is meant by them.
    pub unknown: Vec<Unknown>,
    /// Fields that every new row needs and no column holds.
    pub missing: Vec<&'static Field>,
    /// Columns that hold something and are not used.
    pub unused: Vec<usize>,
    /// What comes of it.
    pub outcome: Outcome,
}

/// What comes of a table.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// Nothing: no row is new or changes anything, and no new matching is to be remembered.
    Nothing,
    /// One edit.
    Edit {
        /// The edit, which can be made.
        edit: Box<Edit>,
        /// Strings that it takes off the train, since their racks would be gone.
        returned_to_yard: Vec<StringMark>,
    },
    /// The rows together would make the plan unsound; why.
    Obstacle(String),
}

impl Intake {
    /// Reads `table` as one of `kind`.
    pub fn of(kind: Kind, table: &Table, around: &Surroundings<'_>, choices: &Choices) -> Self {
        let Surroundings { plan, style, .. } = *around;
        let unread = Unread { kind, table, remembered: &plan.order_table };
        let matching = Matching::of(&unread, choices);
        let mut names = Names::new(around, choices);
        let reading = Reading { plan, style, table, matching: &matching };
        let (fates, row_edits) = match kind {
            Kind::Order => keyed::take::<OrderedString>(&reading, &mut names),
            Kind::Sections => keyed::take::<RailSection>(&reading, &mut names),
            Kind::Train => keyed::take::<Vehicle>(&reading, &mut names),
            Kind::Steps => steps::take(&reading, &mut names),
        };
        let (unknown, adds) = names.done();
        let mut rows: Vec<RowFate> = before_rows(table, &matching).collect();
        rows.extend(fates);
        let mut edits = if row_edits.is_empty() { Vec::new() } else { adds };
        edits.extend(row_edits);
        let counts = Counts::of(&rows);
        let remembered = matching.to_remember(table, &plan.order_table);
        // A matching by which no row could be read is not worth remembering.
        let served = counts.new + counts.changed + counts.unchanged > 0;
        if kind == Kind::Order && served && remembered != plan.order_table {
            edits.push(Edit::SetOrderTable { table: remembered });
        }
        let outcome = outcome(plan, kind, &counts, edits);
        let missing = missing(kind, &matching, &rows);
        let unused = unused(table, &matching);
        Self { kind, matching, rows, unknown, missing, unused, outcome }
    }

    /// How many rows have which fate.
    pub fn counts(&self) -> Counts {
        Counts::of(&self.rows)
    }

    /// Whether no row was refused and nothing stands in the way.
    pub fn takes_all(&self) -> bool {
        self.counts().refused == 0 && !matches!(self.outcome, Outcome::Obstacle(_))
    }
}

/// The lines up to the headers.
fn before_rows<'a>(table: &'a Table, matching: &Matching) -> impl Iterator<Item = RowFate> + use<'a> {
    let header = matching.header;
    let count = header.map_or(0, |header| header + 1);
    table.lines.iter().take(count).enumerate().map(move |(at, line)| {
        let skip = match () {
            () if header == Some(at) => Skip::Header,
            () if line.is_blank() => Skip::Blank,
            () => Skip::BeforeHeader,
        };
        RowFate {
            line: line.number,
            name: first_words(line),
            cells: Vec::new(),
            fate: Fate::Skipped(skip),
            notes: Vec::new(),
        }
    })
}

fn missing(kind: Kind, matching: &Matching, rows: &[RowFate]) -> Vec<&'static Field> {
    let refused = rows.iter().any(|row| matches!(row.fate, Fate::Refused(_)));
    let lacking = |field: &&Field| matching.of_key(field.key).is_none_or(|matched| matched.column.is_none());
    let needed = |field: &&Field| match field.need {
        Need::Always => true,
        Need::NewRows => refused,
        Need::Never => false,
    };
    kind.fields().iter().filter(needed).filter(lacking).collect()
}

fn unused(table: &Table, matching: &Matching) -> Vec<usize> {
    let used = |column: usize| matching.columns.iter().any(|matched| matched.column == Some(column));
    let lines = || table.lines.iter().skip(matching.header.unwrap_or(0));
    let width = lines().map(|line| line.cells.len()).max().unwrap_or(0);
    let holds =
        |column: usize| lines().any(|line| line.cells.get(column).is_some_and(|cell| !cell.is_empty()));
    (0..width).filter(|column| !used(*column) && holds(*column)).collect()
}

fn outcome(plan: &Plan, kind: Kind, counts: &Counts, edits: Vec<Edit>) -> Outcome {
    if edits.is_empty() {
        return Outcome::Nothing;
    }
    let edit = Edit::Batch { label: label(kind, counts), edits };
    match edit.apply(plan) {
        Ok(applied) => Outcome::Edit { edit: Box::new(edit), returned_to_yard: applied.returned_to_yard },
        Err(error) => Outcome::Obstacle(error.to_string()),
    }
}

/// What the Undo menu calls it.
fn label(kind: Kind, counts: &Counts) -> String {
    let (one, several) = kind.nouns();
    let noun = |count| if count == 1 { one } else { several };
    match (counts.new, counts.changed) {
        (0, 0) => "Remember the columns of the order's table".to_owned(),
        (new, 0) => format!("Take in {new} {}", noun(new)),
        (0, changed) => format!("Change {changed} {} from a table", noun(changed)),
        (new, changed) => format!("Take in {new} {}, change {changed}", noun(new)),
    }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{catalogue, choosing, intake, plan, refused};
    use super::super::{ColumnChoice, HeaderChoice, Measure, NameChoice, NameKind};
    use super::*;
    use crate::model::{ColumnUnit, OrderColumn, TrainEnd};
    use crate::units::UnitSystem;

    fn edit_of(intake: &Intake) -> &Edit {
        match &intake.outcome {
            Outcome::Edit { edit, .. } => edit,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn what_is_taken_in_is_one_edit_with_a_name_and_taking_it_in_again_changes_nothing() {
        let rows = "mark,section,length m\nN1,60E1,10\nN2,60E1,10\nS1,60E1,17\n";
        let taken = intake(Kind::Order, &plan(), rows);
        assert!(taken.takes_all());
        assert_eq!(edit_of(&taken).label(), "Take in 2 strings, change 1");
        let after = edit_of(&taken).apply(&plan()).unwrap().plan;
        assert_eq!(intake(Kind::Order, &after, rows).outcome, Outcome::Nothing);
    }

    #[test]
    fn columns_matched_by_hand_are_remembered_and_used_unasked() {
        let rows = "Kennung;Profil;Laenge\nN1;60E1;10\n";
        let lost = intake(Kind::Order, &plan(), rows);
        assert_eq!(
            lost.missing.iter().map(|field| field.key).collect::<Vec<_>>(),
            ["mark", "section", "length"]
        );
        assert_eq!((lost.counts().refused, lost.unused.len()), (1, 3));
        let said = |choices: &mut Choices| {
            for (column, key) in ["mark", "section", "length"].into_iter().enumerate() {
                choices.columns.insert(key, ColumnChoice::Column(column));
            }
            choices.units.insert("length", Kind::Order.field("length").unwrap().1.measure.unit("m").unwrap());
        };
        let told = choosing(Kind::Order, &plan(), rows, said);
        assert!(told.takes_all(), "{:?}", told.rows);
        let after = edit_of(&told).apply(&plan()).unwrap().plan;
        let length = &after.order_table.columns[2];
        assert_eq!((length.holds, length.unit), (OrderColumn::Length, Some(ColumnUnit::Metre)));
        let again = intake(Kind::Order, &after, "Laenge;KENNUNG;Profil\n11;N1;60E1\n12;N2;60E1\n");
        assert!(again.takes_all(), "{:?}", again.rows);
        assert_eq!((again.counts().new, again.counts().changed), (1, 1));
    }

    #[test]
    fn two_columns_that_may_be_meant_are_asked_about() {
        let rows = "mark,section,length m,length ft\nN1,60E1,10,32\n";
        let doubtful = intake(Kind::Order, &plan(), rows);
        let (field, columns) = &doubtful.matching.doubtful[0];
        assert_eq!((field.key, columns.as_slice(), doubtful.counts().refused), ("length", &[2, 3][..], 1));
        let said = choosing(Kind::Order, &plan(), rows, |choices| {
            choices.columns.insert("length", ColumnChoice::Column(3));
        });
        assert!(said.takes_all());
        assert_eq!(said.rows[1].cells[2], "9.754 m");
    }

    #[test]
    fn unknown_names_are_refused_copied_or_made_as_said() {
        let rows = "mark,section,length m,drop\nN1,54e1,10,North\nN2,54E1,10,\n";
        let asked = intake(Kind::Order, &plan(), rows);
        let unknown: Vec<_> =
            asked.unknown.iter().map(|one| (one.name.as_str(), one.rows, one.like.as_deref())).collect();
        // The first row is refused for its section before its drop is looked at.
        assert_eq!(unknown, [("54e1", 2, Some("54E1"))]);
        let said = choosing(Kind::Order, &plan(), rows, |choices| {
            choices.mean(NameKind::Section, "54E1", NameChoice::Use("54E1".to_owned()));
            choices.mean(NameKind::Drop, "North", NameChoice::Make(TrainEnd::Front));
        });
        assert!(said.takes_all(), "{:?}", said.rows);
        let after = edit_of(&said).apply(&plan()).unwrap().plan;
        let from = catalogue();
        let copied = from.sections.iter().find(|section| section.name.as_str() == "54E1");
        assert_eq!(after.section(&"54E1".parse().unwrap()), copied);
        assert_eq!(after.drop_named(&"North".parse().unwrap()).unwrap().toward, TrainEnd::Front);
    }

    #[test]
    fn headers_are_found_below_other_lines_and_may_be_said_to_be_elsewhere() {
        let rows = "Order of May\n\nmark,section,length m\nN1,60E1,10\n";
        let found = intake(Kind::Order, &plan(), rows);
        assert_eq!(found.rows[0].fate, Fate::Skipped(Skip::BeforeHeader));
        assert!(found.takes_all() && found.counts().new == 1);
        let none = choosing(Kind::Order, &plan(), "N1\t60E1\t10 m\n", |choices| {
            choices.header = HeaderChoice::Without
        });
        assert_eq!((none.counts().new, none.rows[0].cells[2].as_str()), (1, "10.000 m"));
        let line = choosing(Kind::Order, &plan(), rows, |choices| choices.header = HeaderChoice::Line(1));
        assert_eq!(line.matching.header, Some(0));
    }

    #[test]
    fn a_table_without_headers_has_no_unit_until_somebody_says_it() {
        let no_unit = "it has no unit; say the unit of the column, or write it in the cell";
        for units in [UnitSystem::Metric, UnitSystem::UsCustomary] {
            let mut plan = plan();
            plan.units = units;
            let why = |kind, rows| refused(kind, &plan, rows);
            assert_eq!(why(Kind::Order, "Z1,60E1,328\n"), [format!("Length \"328\": {no_unit}")]);
            assert_eq!(
                why(Kind::Order, "Z1,60E1,328 ft,,,9\n"),
                [format!("Mass \"9\": {no_unit}")],
                "a unit in one column is none in another"
            );
            assert_eq!(why(Kind::Train, "W8,Flat,no,24\n"), [format!("Weighed tare \"24\": {no_unit}")]);
            assert_eq!(
                why(Kind::Sections, "Own,60,76,3000\n"),
                [format!("Mass per length \"60\": {no_unit}")]
            );
            let said = choosing(Kind::Order, &plan, "Z1,60E1,328\n", |choices| {
                choices.units.insert("length", Measure::Length.unit("ft").unwrap());
            });
            assert_eq!(said.rows[0].cells[2], "99.974 m");
            // A column that was said by its number has no unit either.
            let moved = choosing(Kind::Order, &plan, "60E1,Z1,328\n", |choices| {
                for (key, column) in [("mark", 1), ("section", 0), ("length", 2)] {
                    choices.columns.insert(key, ColumnChoice::Column(column));
                }
            });
            assert_eq!((moved.counts().refused, moved.matching.columns[2].unit), (1, None));
        }
    }

    #[test]
    fn more_strings_than_a_plan_may_have_are_an_obstacle() {
        let rows = |count: usize| {
            let lines: Vec<String> = (0..count).map(|number| format!("N{number},60E1,10")).collect();
            format!("mark,section,length m\n{}\n", lines.join("\n"))
        };
        let room = OrderedString::MOST - plan().order.len();
        assert!(intake(Kind::Order, &plan(), &rows(room)).takes_all());
        let over = intake(Kind::Order, &plan(), &rows(room + 1));
        assert!(
            matches!(&over.outcome, Outcome::Obstacle(why) if why.contains("2000")),
            "{:?}",
            over.outcome
        );
        assert!(!over.takes_all());
    }
}
