//! Route, limits, acceptances, and what concerns the plan as a whole.

use super::{Edit, EditError, TrainSettings};
use crate::model::{Acceptance, Limit, LimitKind, Plan};

/// Makes those edits that only set something; all others are made elsewhere and leave `plan` alone here.
pub(super) fn change(edit: &Edit, plan: &mut Plan) -> Result<(), EditError> {
    match edit {
        Edit::SetTrainSettings(settings) => set_train_settings(plan, settings),
        Edit::SetRoute { route } => plan.route = (**route).clone(),
        Edit::SetLimit { kind, limit } => set_limit(plan, *kind, limit.as_ref()),
        Edit::AdoptLimits { limits, by } => adopt_limits(plan, limits, by),
        Edit::AcceptLimits { kinds, by } => return accept_limits(plan, kinds, by),
        Edit::SetNearShare { share } => plan.limits.near_share = *share,
        Edit::Accept { acceptance } => accept(plan, acceptance),
        Edit::Unaccept { check, things } => return unaccept(plan, check, things),
        Edit::SetTitle { title } => plan.title.clone_from(title),
        Edit::SetNotes { notes } => plan.notes.clone_from(notes),
        Edit::SetOrderTable { table } => plan.order_table.clone_from(table),
        Edit::SetUnits { units } => plan.units = *units,
        _ => {}
    }
    Ok(())
}

fn set_train_settings(plan: &mut Plan, settings: &TrainSettings) {
    plan.train.coupling_slack = settings.coupling_slack;
    plan.train.front_beyond = settings.front_beyond;
    plan.train.rear_beyond = settings.rear_beyond;
    plan.train.lane_rule = settings.lane_rule;
}

fn set_limit(plan: &mut Plan, kind: LimitKind, limit: Option<&Limit>) {
    match limit {
        Some(limit) => plan.limits.entries.insert(kind, limit.clone()),
        None => plan.limits.entries.remove(&kind),
    };
}

fn adopt_limits(plan: &mut Plan, limits: &[(LimitKind, Limit)], by: &str) {
    for (kind, limit) in limits {
        let limit = Limit { accepted_by: Some(by.to_owned()), ..limit.clone() };
        plan.limits.entries.insert(*kind, limit);
    }
}

fn accept_limits(plan: &mut Plan, kinds: &[LimitKind], by: &str) -> Result<(), EditError> {
    for kind in kinds {
        let limit = plan.limits.entries.get_mut(kind);
        let missing = || EditError::NoSuch { kind: "limit", name: kind.title().to_owned() };
        limit.ok_or_else(missing)?.accepted_by = Some(by.to_owned());
    }
    Ok(())
}

fn accept(plan: &mut Plan, acceptance: &Acceptance) {
    let same = |known: &&mut Acceptance| known.check == acceptance.check && known.things == acceptance.things;
    match plan.accepted.iter_mut().find(same) {
        Some(known) => known.clone_from(acceptance),
        None => plan.accepted.push(acceptance.clone()),
    }
}

fn unaccept(plan: &mut Plan, check: &str, things: &[String]) -> Result<(), EditError> {
    let before = plan.accepted.len();
    plan.accepted.retain(|known| known.check != check || known.things != things);
    if plan.accepted.len() == before {
        let name = format!("of {check} for {}", things.join(", "));
        return Err(EditError::NoSuch { kind: "acceptance", name });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::super::trial::{after, plan, refused};
    use super::*;
    use crate::fixtures::limit;
    use crate::model::{Beyond, BeyondKind, LaneRule, Route};
    use crate::units::{Length, UnitSystem};

    fn acceptance(why: &str) -> Acceptance {
        Acceptance {
            check: "side-balance".to_owned(),
            things: vec!["vehicle W1".to_owned()],
            by: "A. Planner".to_owned(),
            why: why.to_owned(),
            at: "Monday".to_owned(),
            found: None,
        }
    }

    #[test]
    fn limits_are_entered_cleared_and_accepted() {
        let (kind, gone) = (LimitKind::WheelRatio, LimitKind::Sag);
        let entered = Limit { accepted_by: None, ..limit(1.2) };
        let set = after(&plan(), &Edit::SetLimit { kind, limit: Some(entered.clone()) });
        assert_eq!(set.limits.get(kind), Some(&entered));
        let accepted = after(&set, &Edit::AcceptLimits { kinds: vec![kind], by: "A. Planner".to_owned() });
        assert_eq!(accepted.limits.get(kind).unwrap().accepted_by.as_deref(), Some("A. Planner"));
        let cleared = after(&plan(), &Edit::SetLimit { kind: gone, limit: None });
        assert_eq!(cleared.limits.get(gone), None);
        let missing = Edit::AcceptLimits { kinds: vec![gone], by: "A. Planner".to_owned() };
        assert!(matches!(refused(&cleared, &missing), EditError::NoSuch { kind: "limit", .. }));
    }

    #[test]
    fn an_adopted_set_is_accepted_by_who_adopts_it() {
        let limits = vec![(LimitKind::WheelRatio, Limit { accepted_by: None, ..limit(1.2) })];
        let adopted = after(&plan(), &Edit::AdoptLimits { limits, by: "A. Planner".to_owned() });
        let entry = adopted.limits.get(LimitKind::WheelRatio).unwrap();
        assert_eq!((entry.running, entry.accepted_by.as_deref()), (1.2, Some("A. Planner")));
        assert_eq!(adopted.limits.entries.len(), plan().limits.entries.len());
    }

    #[test]
    fn a_finding_is_accepted_once_and_the_acceptance_can_be_taken_back() {
        let first = after(&plan(), &Edit::Accept { acceptance: acceptance("weighed") });
        let again = after(&first, &Edit::Accept { acceptance: acceptance("weighed twice") });
        assert_eq!(again.accepted, [acceptance("weighed twice")]);
        let Acceptance { check, things, .. } = acceptance("");
        let back = Edit::Unaccept { check, things };
        assert_eq!(after(&again, &back), plan());
        assert!(matches!(refused(&plan(), &back), EditError::NoSuch { kind: "acceptance", .. }));
    }

    #[test]
    fn what_concerns_the_plan_as_a_whole_is_set() {
        let settings = TrainSettings {
            coupling_slack: None,
            front_beyond: Beyond { kind: BeyondKind::EndStop, distance: Length::from_mm(500) },
            rear_beyond: Beyond { kind: BeyondKind::Vehicle, distance: Length::ZERO },
            lane_rule: Some(LaneRule::OutermostFirst),
        };
        let train = after(&plan(), &Edit::SetTrainSettings(settings)).train;
        assert_eq!(train.coupling_slack, None);
        assert_eq!((train.front_beyond, train.rear_beyond), (settings.front_beyond, settings.rear_beyond));
        assert_eq!(train.lane_rule, settings.lane_rule);
        let route = Box::new(Route { speed_kmh: Some(80.0), ..plan().route });
        let changed = after(&plan(), &Edit::SetRoute { route: route.clone() });
        assert_eq!(changed.route, *route);
        assert_eq!(after(&plan(), &Edit::SetNearShare { share: Some(0.9) }).limits.near_share, Some(0.9));
        assert_eq!(after(&plan(), &Edit::SetTitle { title: "T".to_owned() }).title, "T");
        assert_eq!(after(&plan(), &Edit::SetNotes { notes: "N".to_owned() }).notes, "N");
        let units = UnitSystem::UsCustomary;
        assert_eq!(after(&plan(), &Edit::SetUnits { units }).units, units);
    }
}
