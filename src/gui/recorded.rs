//! What the records of a plan say, worked out when it is first looked at.

use crate::checks::{Assessment, assess};
use crate::format::{SignatureState, signature_states};
use crate::model::Plan;
use crate::planning::Loaded;
use crate::report::Judged;
use crate::statics::{Figures, Scope};
use std::cell::OnceCell;
use std::sync::Arc;

/// The records of one plan, the plan as meant.
#[derive(Clone, Debug)]
pub struct Recorded {
    plan: Arc<Plan>,
    loaded: OnceCell<Loaded>,
    /// Figures and findings of the load as it is, where it differs from what was planned.
    judged: OnceCell<(Figures, Assessment)>,
    signatures: OnceCell<Vec<SignatureState>>,
}

impl Recorded {
    /// The records of `plan`.
    pub(super) fn of(plan: Arc<Plan>) -> Self {
        Self { plan, loaded: OnceCell::new(), judged: OnceCell::new(), signatures: OnceCell::new() }
    }

    /// The records of the `next` plan; figures and findings of the load as it is are kept where they are the same.
    pub(super) fn followed_by(&self, next: &Arc<Plan>) -> Self {
        let recorded = Self::of(Arc::clone(next));
        let same_load = self.plan.as_loaded == next.as_loaded && differ_in_records_only(&self.plan, next);
        if let Some((figures, assessment)) = self.judged.get().filter(|_| same_load) {
            let mut figures = figures.clone();
            figures.plan = Arc::new(recorded.loaded().plan.clone());
            // It is empty, having been made just now.
            let _ = recorded.judged.set((figures, assessment.clone()));
        }
        recorded
    }

    /// The plan as meant.
    pub fn meant(&self) -> &Arc<Plan> {
        &self.plan
    }

    /// The load as it is, and how it differs from the plan.
    pub fn loaded(&self) -> &Loaded {
        self.loaded.get_or_init(|| Loaded::of(&self.plan))
    }

    /// The signatures, and whether each still matches.
    pub fn signatures(&self) -> &[SignatureState] {
        self.signatures.get_or_init(|| signature_states(&self.plan))
    }

    /// Figures and findings of the load as it is; those `as_planned` where every string lies as planned.
    pub(super) fn judged<'a>(
        &'a self,
        as_planned: (&'a Figures, &'a Assessment),
    ) -> (&'a Figures, &'a Assessment) {
        if self.loaded().plan.placements == self.plan.placements {
            return as_planned;
        }
        let (figures, assessment) = self.judged.get_or_init(|| {
            let figures = Figures::of(Arc::new(self.loaded().plan.clone()), Scope::All);
            let assessment = assess(&figures);
            (figures, assessment)
        });
        (figures, assessment)
    }
}

/// The plan whose load is `judged`: `plan` itself, or with each string where it was recorded.
pub(super) fn plan_judged(plan: &Arc<Plan>, judged: Judged) -> Arc<Plan> {
    match judged {
        Judged::AsPlanned => Arc::clone(plan),
        Judged::AsLoaded if plan.as_loaded.is_empty() => Arc::clone(plan),
        Judged::AsLoaded => Arc::new(Loaded::of(plan).plan),
    }
}

/// Whether two plans are the same but for what was loaded, weighed and signed, which no figure and no check of the
/// plan as meant depends on.
pub(super) fn differ_in_records_only(one: &Plan, other: &Plan) -> bool {
    let with_records = Plan {
        as_loaded: other.as_loaded.clone(),
        weighings: other.weighings.clone(),
        signatures: other.signatures.clone(),
        ..one.clone()
    };
    with_records == *other
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::Edit;
    use crate::fixtures::{empty_plan, place};
    use crate::model::AsLoaded;
    use crate::units::Length;

    fn plan() -> Plan {
        let mut plan = empty_plan(3);
        place(&mut plan, "S1", 36_000, (1, 1, 2_000));
        plan
    }

    fn recorded(front_mm: i64) -> Plan {
        let planned = plan().placements[0].clone();
        let record = AsLoaded {
            string: planned.string,
            tier: planned.tier,
            lane: planned.lane,
            front: Length::from_mm(front_mm),
            holds: planned.holds,
            missing: false,
            by: "A. Yard".to_owned(),
            at: String::new(),
        };
        Edit::RecordAsLoaded { records: vec![record] }.apply(&plan()).unwrap().plan
    }

    #[test]
    fn figures_of_the_load_as_it_is_are_worked_out_only_where_something_lies_elsewhere() {
        let front = |front_mm: i64| {
            let plan = Arc::new(recorded(front_mm));
            let figures = Figures::of(Arc::clone(&plan), Scope::All);
            let assessment = assess(&figures);
            let recorded = Recorded::of(plan);
            let judged = recorded.judged((&figures, &assessment)).0;
            (judged.placed[0].front.mm(), std::ptr::eq(judged, &figures))
        };
        assert_eq!(front(2_000), (2_000, true));
        assert_eq!(front(2_400), (2_400, false));
    }

    #[test]
    fn records_alone_change_nothing_that_is_worked_out_of_the_plan_as_meant() {
        assert!(differ_in_records_only(&plan(), &recorded(2_400)));
        let mut moved = recorded(2_400);
        moved.placements[0].front = Length::from_mm(2_001);
        assert!(!differ_in_records_only(&plan(), &moved));
    }
}
