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
    /// Which states of the load as it is are worked out once they are asked for.
    scope: Scope,
    loaded: OnceCell<Loaded>,
    /// The load as it is, where it differs from what was planned.
    judged: OnceCell<Judging>,
    signatures: OnceCell<Vec<SignatureState>>,
}

#[derive(Clone, Debug)]
struct Judging {
    figures: Arc<Figures>,
    assessment: Arc<Assessment>,
    scope: Scope,
}

impl Recorded {
    /// The records of `plan`.
    pub(super) fn of(plan: Arc<Plan>) -> Self {
        let (loaded, judged, signatures) = (OnceCell::new(), OnceCell::new(), OnceCell::new());
        Self { plan, scope: Scope::All, loaded, judged, signatures }
    }

    /// The records of the `next` plan; figures and findings of the load as it is are kept where they are the same.
    pub(super) fn followed_by(&self, next: &Arc<Plan>) -> Self {
        if Arc::ptr_eq(&self.plan, next) {
            return self.clone();
        }
        let recorded = Self { scope: self.scope, ..Self::of(Arc::clone(next)) };
        let same_load = self.plan.as_loaded == next.as_loaded && differ_in_records_only(&self.plan, next);
        if let Some(judging) = self.judged.get().filter(|_| same_load) {
            let mut judging = judging.clone();
            Arc::make_mut(&mut judging.figures).plan = Arc::new(recorded.loaded().plan.clone());
            return Self { judged: OnceCell::from(judging), ..recorded };
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
        as_planned: (&'a Arc<Figures>, &'a Arc<Assessment>),
    ) -> (&'a Arc<Figures>, &'a Arc<Assessment>) {
        if self.lies_as_planned() {
            return as_planned;
        }
        let judging =
            self.judged.get_or_init(|| Judging::of(Arc::new(self.loaded().plan.clone()), self.scope));
        (&judging.figures, &judging.assessment)
    }

    /// Whether nothing is missing of what was asked for of the load as it is.
    pub(super) fn is_whole(&self) -> bool {
        self.lies_as_planned() || self.judged.get().is_none_or(|judging| judging.scope == Scope::All)
    }

    /// Which states are worked out once they are asked for; what is known of all states stays.
    pub(super) fn look_at(&mut self, scope: Scope) {
        self.scope = scope;
        if self.judged.get().is_some_and(|judging| judging.scope != Scope::All && judging.scope != scope) {
            self.judged = OnceCell::new();
        }
    }

    /// Takes figures and findings of all states of the load as it is, where they are of this load.
    pub(super) fn settle(&mut self, figures: Figures, assessment: Assessment) {
        if *figures.plan == self.loaded().plan {
            let (figures, assessment) = (Arc::new(figures), Arc::new(assessment));
            self.judged = OnceCell::from(Judging { figures, assessment, scope: Scope::All });
        }
    }

    fn lies_as_planned(&self) -> bool {
        self.loaded().plan.placements == self.plan.placements
    }
}

impl Judging {
    fn of(plan: Arc<Plan>, scope: Scope) -> Self {
        let figures = Figures::of(plan, scope);
        let figures = if scope == Scope::All { figures } else { figures.live() };
        let assessment = Arc::new(assess(&figures));
        Self { figures: Arc::new(figures), assessment, scope }
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
            let figures = Arc::new(Figures::of(Arc::clone(&plan), Scope::All));
            let assessment = Arc::new(assess(&figures));
            let recorded = Recorded::of(plan);
            let judged = recorded.judged((&figures, &assessment)).0;
            (judged.placed[0].front.mm(), Arc::ptr_eq(judged, &figures))
        };
        assert_eq!(front(2_000), (2_000, true));
        assert_eq!(front(2_400), (2_400, false));
    }

    #[test]
    fn one_state_of_the_load_as_it_is_comes_first_and_all_of_them_stay() {
        let planned = Arc::new(plan());
        let figures = Arc::new(Figures::of(Arc::clone(&planned), Scope::All));
        let assessment = Arc::new(assess(&figures));
        let mut recorded = Recorded::of(Arc::new(recorded(2_400)));
        recorded.look_at(Scope::One(0));
        let worked = |recorded: &Recorded| recorded.judged((&figures, &assessment)).0.worked.len();
        assert_eq!((recorded.is_whole(), worked(&recorded), recorded.is_whole()), (true, 1, false));
        let other = Figures::of(planned, Scope::All);
        recorded.settle(other, (*assessment).clone());
        assert!(!recorded.is_whole(), "that is another load");
        let all = Figures::of(Arc::new(recorded.loaded().plan.clone()), Scope::All);
        recorded.settle(all, (*assessment).clone());
        recorded.look_at(Scope::One(0));
        assert!(recorded.is_whole());
        let signed = Plan { title: "Other".to_owned(), ..(**recorded.meant()).clone() };
        assert!(recorded.followed_by(&Arc::new(signed)).judged.get().is_none());
        let mut weighed = (**recorded.meant()).clone();
        weighed.signatures.clear();
        assert!(recorded.followed_by(&Arc::new(weighed)).judged.get().is_some());
    }

    #[test]
    fn records_alone_change_nothing_that_is_worked_out_of_the_plan_as_meant() {
        assert!(differ_in_records_only(&plan(), &recorded(2_400)));
        let mut moved = recorded(2_400);
        moved.placements[0].front = Length::from_mm(2_001);
        assert!(!differ_in_records_only(&plan(), &moved));
    }
}
