//! Records of what was done with a plan: strings as loaded, readings of scales, signatures.

use super::{Edit, EditError, rows};
use crate::model::{AsLoaded, OrderedString, Plan, StringMark, Vehicle};

/// Records where strings were put; a new record stands where the old one of its string stood.
pub(super) fn record(plan: &mut Plan, records: &[AsLoaded]) -> Result<(), EditError> {
    for record in records {
        rows::index_of::<OrderedString>(plan, &record.string)?;
        match plan.as_loaded.iter_mut().find(|known| known.string == record.string) {
            Some(known) => known.clone_from(record),
            None => plan.as_loaded.push(record.clone()),
        }
    }
    Ok(())
}

/// Records strings as put where the plan has them.
pub(super) fn confirm(
    plan: &mut Plan,
    strings: &[StringMark],
    (by, at): (&str, &str),
) -> Result<(), EditError> {
    for string in strings {
        rows::index_of::<OrderedString>(plan, string)?;
        let placed = plan.placement(string).ok_or_else(|| EditError::NotPlaced { string: string.clone() })?;
        let seen = AsLoaded {
            string: string.clone(),
            tier: placed.tier,
            lane: placed.lane,
            front: placed.front,
            holds: placed.holds.clone(),
            missing: false,
            by: by.to_owned(),
            at: at.to_owned(),
        };
        record(plan, &[seen])?;
    }
    Ok(())
}

/// Takes records back.
pub(super) fn remove(plan: &mut Plan, strings: &[StringMark]) -> Result<(), EditError> {
    for string in strings {
        let known = plan.as_loaded.iter().position(|record| record.string == *string);
        let missing = || EditError::NoSuch { kind: "record of string", name: string.to_string() };
        plan.as_loaded.remove(known.ok_or_else(missing)?);
    }
    Ok(())
}

/// Changes the lists of readings and signatures; other edits are made elsewhere and leave `plan` alone here.
pub(super) fn change_list(edit: &Edit, plan: &mut Plan) -> Result<(), EditError> {
    match edit {
        Edit::AddWeighings { readings } => {
            for reading in readings {
                rows::index_of::<Vehicle>(plan, &reading.vehicle)?;
                plan.weighings.push(reading.clone());
            }
        }
        Edit::ChangeWeighing { at, to } => {
            expect_place("reading", *at, plan.weighings.len())?;
            rows::index_of::<Vehicle>(plan, &to.vehicle)?;
            plan.weighings[*at] = to.clone();
        }
        Edit::RemoveWeighings { at } => {
            for place in at {
                expect_place("reading", *place, plan.weighings.len())?;
            }
            let mut index = 0;
            plan.weighings.retain(|_| {
                index += 1;
                !at.contains(&(index - 1))
            });
        }
        Edit::Sign { signature } => plan.signatures.push(signature.clone()),
        Edit::RemoveSignature { at } => {
            expect_place("signature", *at, plan.signatures.len())?;
            plan.signatures.remove(*at);
        }
        _ => {}
    }
    Ok(())
}

fn expect_place(kind: &'static str, at: usize, count: usize) -> Result<(), EditError> {
    if at < count { Ok(()) } else { Err(EditError::NoPlace { kind, place: at + 1, count }) }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{after, plan, rack, refused, string, wagon};
    use super::*;
    use crate::model::{Signature, WeighedPart, Weighing};
    use crate::units::Length;

    fn seen(mark: &str, front_mm: i64) -> AsLoaded {
        AsLoaded {
            string: string(mark),
            tier: 1,
            lane: 2,
            front: Length::from_mm(front_mm),
            holds: vec![rack("W1", 2)],
            missing: false,
            by: "A. Yard".to_owned(),
            at: "Monday".to_owned(),
        }
    }

    fn reading(vehicle: &str, kg: f64) -> Weighing {
        Weighing {
            vehicle: wagon(vehicle),
            part: WeighedPart::Axle(1),
            kg,
            tolerance: Some(0.02),
            by: "A. Yard".to_owned(),
            at: "Monday".to_owned(),
        }
    }

    #[test]
    fn a_record_takes_the_place_of_the_earlier_one_and_leaves_the_plan_as_meant() {
        let first = Edit::RecordAsLoaded { records: vec![seen("S1", 2_400), seen("S4", 0)] };
        let recorded = after(&plan(), &first);
        let again = after(&recorded, &Edit::RecordAsLoaded { records: vec![seen("S1", 2_000)] });
        assert_eq!(again.as_loaded, [seen("S1", 2_000), seen("S4", 0)]);
        assert_eq!(again.placements, plan().placements);
        let back = Edit::RemoveAsLoaded { strings: vec![string("S1"), string("S4")] };
        assert_eq!(after(&again, &back), plan());
        assert!(matches!(refused(&plan(), &back), EditError::NoSuch { kind: "record of string", .. }));
        let unknown = Edit::RecordAsLoaded { records: vec![seen("S9", 0)] };
        assert!(matches!(refused(&plan(), &unknown), EditError::NoSuch { kind: "string", .. }));
    }

    #[test]
    fn strings_are_confirmed_where_the_plan_has_them() {
        let confirm = |marks: &[&str]| Edit::ConfirmAsPlanned {
            strings: marks.iter().map(|mark| string(mark)).collect(),
            by: "A. Yard".to_owned(),
            at: "Monday".to_owned(),
        };
        let confirmed = after(&plan(), &confirm(&["S1", "S3"]));
        let place = |record: &AsLoaded| (record.tier, record.lane, record.front, record.holds.clone());
        for (record, mark) in confirmed.as_loaded.iter().zip(["S1", "S3"]) {
            let placed = plan().placement(&string(mark)).unwrap().clone();
            assert_eq!(place(record), (placed.tier, placed.lane, placed.front, placed.holds));
        }
        assert_eq!(confirmed.as_loaded.len(), 2);
        assert_eq!(refused(&plan(), &confirm(&["S4"])), EditError::NotPlaced { string: string("S4") });
        assert!(matches!(refused(&plan(), &confirm(&["S9"])), EditError::NoSuch { .. }));
    }

    #[test]
    fn a_hold_that_is_nowhere_is_refused() {
        let record = AsLoaded { holds: vec![rack("W1", 4)], ..seen("S1", 0) };
        let error = refused(&plan(), &Edit::RecordAsLoaded { records: vec![record] });
        let EditError::NotSound { problem } = error else { panic!("{error}") };
        assert_eq!(problem.path, "as_loaded[0].holds[0]");
    }

    #[test]
    fn readings_are_added_changed_and_removed() {
        let readings = vec![reading("W1", 9_000.0), reading("W2", 9_100.0), reading("W3", 9_200.0)];
        let added = after(&plan(), &Edit::AddWeighings { readings });
        let changed = after(&added, &Edit::ChangeWeighing { at: 1, to: reading("W2", 8_000.0) });
        assert_eq!(changed.weighings[1], reading("W2", 8_000.0));
        let left = after(&changed, &Edit::RemoveWeighings { at: vec![2, 0] });
        assert_eq!(left.weighings, [reading("W2", 8_000.0)]);
        let beyond = EditError::NoPlace { kind: "reading", place: 2, count: 1 };
        assert_eq!(refused(&left, &Edit::RemoveWeighings { at: vec![0, 1] }), beyond);
        assert_eq!(refused(&left, &Edit::ChangeWeighing { at: 1, to: reading("W2", 1.0) }), beyond);
        let nowhere = Edit::AddWeighings { readings: vec![reading("W9", 1.0)] };
        assert!(matches!(refused(&plan(), &nowhere), EditError::NoSuch { kind: "vehicle", .. }));
        let negative = Edit::AddWeighings { readings: vec![reading("W1", -1.0)] };
        assert!(matches!(refused(&plan(), &negative), EditError::NotSound { .. }));
    }

    #[test]
    fn a_signature_is_added_and_taken_away_and_has_a_name() {
        let signature =
            |by: &str| Signature { by: by.to_owned(), at: "Monday".to_owned(), hash: "0f".to_owned() };
        let signed = after(&plan(), &Edit::Sign { signature: signature("A. Yard") });
        assert_eq!(signed.signatures, [signature("A. Yard")]);
        assert_eq!(after(&signed, &Edit::RemoveSignature { at: 0 }), plan());
        let beyond = EditError::NoPlace { kind: "signature", place: 1, count: 0 };
        assert_eq!(refused(&plan(), &Edit::RemoveSignature { at: 0 }), beyond);
        refused(&plan(), &Edit::Sign { signature: signature(" ") });
    }

    #[test]
    fn the_undo_menu_names_each() {
        let check = |edit: Edit, expected: &str| assert_eq!(edit.label(), expected);
        check(Edit::RecordAsLoaded { records: vec![seen("S1", 0)] }, "Record string S1 as loaded");
        let (by, at) = (String::new(), String::new());
        let strings = vec![string("S1"), string("S2")];
        check(Edit::ConfirmAsPlanned { strings: strings.clone(), by, at }, "Confirm 2 strings as planned");
        check(Edit::RemoveAsLoaded { strings }, "Take back the record of 2 strings");
        check(Edit::AddWeighings { readings: vec![reading("W1", 1.0)] }, "Add reading");
        check(Edit::RemoveWeighings { at: vec![0, 1] }, "Remove 2 readings");
        check(Edit::ChangeWeighing { at: 0, to: reading("W1", 1.0) }, "Change reading");
        check(Edit::RemoveSignature { at: 0 }, "Take signature back");
    }
}
