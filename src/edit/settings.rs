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
