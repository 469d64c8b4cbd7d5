//! Check `model-difference`: the level rigid loads against those on springs.

use super::bearing::{axle_subject, on_bogies};
use super::on_springs::{Bearer, capacities, spring_states};
use super::{Check, Comparison, Judge, LimitValue, Outcome, Sense};
use crate::model::LimitKind;
use crate::statics::{Figures, StateRule, SupportLoads};
use crate::text;
use crate::units::{Quantity, Text};

pub(crate) static CHECK: Check = Check {
    id: "model-difference",
    title: "Level against springs",
    what: "How much the axle loads of the level rigid model differ from those on springs, as a share of the level \
           value, against the difference between the models; and whether the two keep and break the same axle, \
           wheel and line ratings and wheel load ratio. It warns and breaks no limit.",
    why: "The level value is the one of record. Where heights or soft springs shift the loads by more than a few \
          per cent, it is not the whole truth.",
    mend: "Look at the heights of the racks and wagons here, and judge by the worse of the two values.",
    source: "common practice, no source; the value that is judged by is the plan's",
    run,
};

fn run(judge: &mut Judge<'_>) {
    let Some(states) = spring_states(judge) else { return };
    let Some(limit) = judge.limit(LimitKind::ModelDifference) else { return };
    let figures = judge.figures;
    for (vehicle, _) in figures.consist.vehicles.iter().enumerate() {
        let limits = limits_of(figures, vehicle);
        let on_bogies = on_bogies(figures, vehicle);
        for ((state, rule), level) in states.iter().zip(&figures.worked) {
            let pair = level.vehicles.get(vehicle).zip(state.loads.vehicles.get(vehicle));
            let Some((level_loads, spring_loads)) = pair else { continue };
            let supports = level_loads.supports.iter().zip(&spring_loads.supports);
            for (support, (level_load, spring_load)) in supports.enumerate() {
                let subject = axle_subject(on_bogies, vehicle, support);
                let both = Both { level: level_load, springs: spring_load };
                let judged = both.judged(&limit, &limits, *rule);
                judge.decided(Some(level.state), subject, (judged.0, judged.1), || both.words(judged.2));
            }
        }
    }
}

/// A limit that both models are held against: its name, its value, and what is compared.
struct Held {
    name: &'static str,
    most: fn(&Held, StateRule) -> f64,
    values: (f64, f64),
    demand: fn(&SupportLoads) -> Quantity,
}

fn limits_of(figures: &Figures, vehicle: usize) -> Vec<Held> {
    let ratings = capacities(figures, vehicle).into_iter().map(|capacity| Held {
        name: capacity.name,
        most: running_or_working,
        values: (capacity.kg, capacity.kg),
        demand: match capacity.bearer {
            Bearer::Axle => |loads| Quantity::mass(Bearer::Axle.load_kg(loads)),
            Bearer::Wheel => |loads| Quantity::mass(Bearer::Wheel.load_kg(loads)),
        },
    });
    let ratio = figures.plan.limits.accepted(LimitKind::WheelRatio).map(|limit| Held {
        name: LimitKind::WheelRatio.title(),
        most: running_or_working,
        values: (limit.running, limit.working_value()),
        demand: |loads| Quantity::ratio(loads.worse_ratio()),
    });
    ratings.chain(ratio).collect()
}

fn running_or_working(held: &Held, rule: StateRule) -> f64 {
    if rule == StateRule::Running { held.values.0 } else { held.values.1 }
}

/// The loads of a support by both models.
struct Both<'a> {
    level: &'a SupportLoads,
    springs: &'a SupportLoads,
}

impl Both<'_> {
    /// The outcome, the difference against its limit, and a limit that one model keeps and the other breaks.
    fn judged(
        &self,
        limit: &LimitValue,
        limits: &[Held],
        rule: StateRule,
    ) -> (Outcome, Comparison, Option<&'static str>) {
        let share = if self.level.axle_kg > 0.0 {
            (self.springs.axle_kg - self.level.axle_kg).abs() / self.level.axle_kg
        } else {
            f64::INFINITY
        };
        let difference = Comparison::new(Quantity::share(share), limit.by(rule), Sense::AtMost);
        let holds = |held: &Held, loads: &SupportLoads| {
            Comparison::new((held.demand)(loads), (held.most)(held, rule), Sense::AtMost).holds()
        };
        let changed = limits.iter().find(|held| holds(held, self.level) != holds(held, self.springs));
        let warns = changed.is_some() || !difference.holds();
        (if warns { Outcome::Near } else { Outcome::Pass }, difference, changed.map(|held| held.name))
    }

    fn words(&self, changed: Option<&'static str>) -> Text {
        let [level, springs] = [self.level, self.springs].map(|loads| Quantity::mass(loads.axle_kg));
        let mut words = text![", ", level, " level and ", springs, " on springs on each axle"];
        if let Some(name) = changed {
            words.0.extend(text!["; one model keeps the ", name, ", the other breaks it"].0);
        }
        words
    }
}

#[cfg(test)]
mod tests {
    use super::CHECK;
    use crate::checks::Outcome::{Near, Undecided};
    use crate::checks::bearing::testing::{check, worst_text};
    use crate::checks::on_springs::testing::low_in_the_middle;
    use crate::fixtures::limit;
    use crate::model::{LimitKind, Plan};

    fn limited(mut plan: Plan, share: f64) -> Plan {
        plan.limits.entries.insert(LimitKind::ModelDifference, limit(share));
        plan
    }

    #[test]
    fn a_difference_beyond_the_limit_warns() {
        check(&CHECK, &limited(low_in_the_middle(0.0), 0.03), &[]);
        let low = low_in_the_middle(60.0);
        let warned = crate::checks::bearing::testing::findings(&CHECK, &limited(low.clone(), 0.001));
        assert_eq!(warned[0].outcome, Near);
        let share = warned[0].comparison.unwrap().demand.value;
        check(&CHECK, &limited(low.clone(), share * 1.001), &[]);
        assert!(worst_text(&CHECK, &limited(low, share * 0.999)).contains("level and"));
    }

    #[test]
    fn a_verdict_that_changes_warns_however_small_the_difference() {
        let mut plan = limited(low_in_the_middle(60.0), 0.9);
        let figures = crate::checks::trial::figures_of(plan.clone());
        let level_kg = figures.worked[0].vehicles[0].supports[1].axle_kg;
        let springs_kg = figures.springs().unwrap().states[0].loads.vehicles[0].supports[1].axle_kg;
        plan.train.vehicle_types[0].axle_rating_kg = Some(f64::midpoint(level_kg, springs_kg));
        assert!(worst_text(&CHECK, &plan).ends_with("one model keeps the axle rating, the other breaks it"));
    }

    #[test]
    fn a_missing_limit_is_undecided() {
        let mut plan = low_in_the_middle(0.0);
        plan.limits.entries.remove(&LimitKind::ModelDifference);
        check(&CHECK, &plan, &[(Undecided, "limit difference between the models")]);
    }
}
