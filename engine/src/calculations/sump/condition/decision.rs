//! The search through the table: whatever reaches furthest decides.

use super::answer::{CareAction, Observation, Verdict};
use super::rules::{Care, CareRow, TOGETHER, Together};
use crate::calculations::sump::dose::ProductKind;

/// Something of the table that applies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum CareRule {
    /// One observation beyond a boundary.
    Alone(&'static CareRow),
    /// Two that hold together.
    Both(&'static Together),
}

impl CareRule {
    pub(super) const fn care(self) -> Care {
        match self {
            Self::Alone(row) => row.care,
            Self::Both(together) => together.care,
        }
    }

    /// The observation that it rests on, the first of two.
    pub(super) const fn rests_on(self) -> Observation {
        match self {
            Self::Alone(row) => row.observation,
            Self::Both(together) => together.of[0].0,
        }
    }
}

/// What is decided, and what applies.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Decided {
    /// What to do, and by when.
    pub(super) care: Care,
    /// All that applies, what reaches furthest first, and of that what is due first.
    pub(super) rules: Vec<CareRule>,
}

/// Days until somebody looks again where nothing wants anything: most tests are weekly.
const LOOK_AGAIN: f64 = 7.0;

/// Decides by the rows that the observations are on.
pub(super) fn decide(rows: &[&'static CareRow]) -> Decided {
    let stands = |observation: Observation| {
        let of = rows.iter().filter(|row| row.observation == observation);
        of.map(|row| row.verdict).max().unwrap_or(Verdict::Good)
    };
    let together = TOGETHER
        .iter()
        .filter(|rule| rule.of.iter().all(|(observation, least)| stands(*observation) >= *least));
    let mut rules: Vec<CareRule> =
        rows.iter().map(|row| CareRule::Alone(row)).chain(together.map(CareRule::Both)).collect();
    rules.sort_by(|a, b| {
        let (a, b) = (a.care(), b.care());
        b.action.cmp(&a.action).then(a.within.total_cmp(&b.within))
    });
    let nothing = Care { action: CareAction::CarryOn, product: None, within: LOOK_AGAIN };
    Decided { care: rules.first().map_or(nothing, |rule| rule.care()), rules }
}

impl Decided {
    /// Whether a rule leads to the decision itself.
    fn is_reason(&self, rule: CareRule) -> bool {
        let care = rule.care();
        (care.action, care.product) == (self.care.action, self.care.product)
    }

    /// What applies and leads to the decision.
    pub(super) fn reasons(&self) -> impl Iterator<Item = CareRule> {
        self.rules.iter().copied().filter(|rule| self.is_reason(*rule))
    }

    /// What else there is to do: the first to be due of each thing. What is drained anyway is
    /// not dosed, nor topped up; where a slide is to decide, nothing is dosed before it is read but
    /// what keeps foam in the sump; and where persons come first nobody is sent to the sump at all,
    /// to stir up what is in it or to dose it.
    pub(super) fn besides(&self) -> Vec<CareRule> {
        let mut besides: Vec<CareRule> = Vec::new();
        if self.care.action == CareAction::StopAndAsk {
            return besides;
        }
        let is_drained = matches!(self.care.action, CareAction::CleanOut | CareAction::Dispose);
        let waits = self.care.action == CareAction::DipSlide;
        for rule in &self.rules {
            let care = rule.care();
            let is_spared = match care.action {
                CareAction::TopUp | CareAction::Recycle => is_drained,
                CareAction::Dose if care.product == Some(ProductKind::Defoamer) => is_drained,
                CareAction::Dose => is_drained || waits,
                _ => false,
            };
            let is_known = besides.iter().any(|known| {
                (known.care().action, known.care().product) == (care.action, care.product)
            });
            if care.action > CareAction::CarryOn
                && !is_spared
                && !is_known
                && !self.is_reason(*rule)
            {
                besides.push(*rule);
            }
        }
        besides
    }
}

#[cfg(test)]
mod tests {
    use super::super::question::Condition;
    use super::super::rules::{self, ROWS, called};
    use super::*;
    use utoipa::PartialSchema;

    /// The rows that an observation can be on, from none to the worst.
    fn grades() -> Vec<Vec<Option<&'static CareRow>>> {
        let mut grades: Vec<(Observation, Vec<Option<&'static CareRow>>)> = Vec::new();
        for row in ROWS {
            match grades.iter_mut().find(|(observation, _)| *observation == row.observation) {
                Some((_, rows)) => rows.push(Some(row)),
                None => grades.push((row.observation, vec![None, Some(row)])),
            }
        }
        grades.into_iter().map(|(_, rows)| rows).collect()
    }

    /// Each row of an observation reaches at least as far as the milder ones, no later where it
    /// leads to the same; then whatever reaches furthest of a set of rows never comes down when
    /// one of them is exchanged for a worse one.
    #[test]
    fn the_rows_of_an_observation_get_worse() {
        for rows in grades() {
            for pair in rows.iter().flatten().collect::<Vec<_>>().windows(2) {
                let (mild, bad) = (pair[0], pair[1]);
                assert!(bad.verdict >= mild.verdict, "{bad:?}");
                assert!(bad.care.action >= mild.care.action, "{bad:?}");
                let is_later = bad.care.within > mild.care.within;
                assert!(bad.care.action > mild.care.action || !is_later, "{bad:?}");
            }
        }
    }

    /// Every combination of grades of every three observations, with nothing else: exactly one
    /// decision, and never a laxer one when one of them gets worse. No rule rests on more than
    /// two observations, so that these are all that can meet in one.
    #[test]
    fn no_decision_is_laxer_when_an_observation_gets_worse() {
        let grades = grades();
        assert_eq!(grades.len(), 18);
        let decided = |rows: &[Option<&'static CareRow>]| {
            let rows: Vec<_> = rows.iter().copied().flatten().collect();
            let care = decide(&rows).care;
            (care.action, -care.within)
        };
        let mut combinations = 0_u32;
        for (i, first) in grades.iter().enumerate() {
            for (j, second) in grades.iter().enumerate().skip(i + 1) {
                for third in grades.iter().skip(j + 1) {
                    for a in 0..first.len() {
                        for b in 0..second.len() {
                            for c in 0..third.len() {
                                combinations += 1;
                                let now = decided(&[first[a], second[b], third[c]]);
                                let worse = [
                                    first.get(a + 1).map(|worse| [*worse, second[b], third[c]]),
                                    second.get(b + 1).map(|worse| [first[a], *worse, third[c]]),
                                    third.get(c + 1).map(|worse| [first[a], second[b], *worse]),
                                ];
                                for worse in worse.into_iter().flatten() {
                                    let then = decided(&worse);
                                    let is_laxer =
                                        then.0 < now.0 || (then.0 == now.0 && then.1 < now.1);
                                    assert!(!is_laxer || now.0 == CareAction::CarryOn, "{worse:?}");
                                }
                            }
                        }
                    }
                }
            }
        }
        assert!(combinations > 15_000, "{combinations}");
    }

    /// Every action there is is decided on by some row or by two together.
    #[test]
    fn every_decision_can_be_raised() {
        use CareAction::*;
        for action in [
            CarryOn, TopUp, Circulate, Skim, Dose, Recycle, DipSlide, CleanOut, Dispose, StopAndAsk,
        ] {
            let raises = ROWS.iter().any(|row| decide(&[row]).care.action == action);
            assert!(raises, "{action:?}");
        }
        for rule in TOGETHER {
            let of = rule.of.map(|(observation, least)| {
                let fits = |row: &&&CareRow| row.observation == observation && row.verdict >= least;
                *ROWS.iter().find(fits).expect("a row")
            });
            assert!(decide(&of).rules.contains(&CareRule::Both(rule)), "{rule:?}");
        }
    }

    #[test]
    fn what_is_drained_is_not_dosed() {
        let is_drained = |row: &&CareRow| row.care.action != CareAction::StopAndAsk;
        let drained: Vec<_> = ROWS.iter().copied().filter(is_drained).collect();
        let decided = decide(&drained);
        assert_eq!(decided.care.action, CareAction::Dispose);
        assert!(decided.besides().iter().all(|rule| rule.care().action != CareAction::Dose));
    }

    /// A pH that fell without a slide is not corrected, and nothing else is dosed against what the
    /// slide may show; foam over the edge does not wait for it.
    #[test]
    fn before_the_slide_is_read_nothing_is_dosed() {
        let decided = decide(&[rules::PH_FALLEN, rules::FUNGI, rules::RUSTS, rules::FOAMS_OVER]);
        assert_eq!(decided.care.action, CareAction::DipSlide);
        let dosed: Vec<_> =
            decided.besides().iter().filter_map(|rule| rule.care().product).collect();
        assert_eq!(dosed, [ProductKind::Defoamer]);
    }

    #[test]
    fn where_persons_come_first_nobody_is_sent_to_the_sump() {
        let decided = decide(ROWS);
        assert_eq!(decided.care.action, CareAction::StopAndAsk);
        assert!(decided.besides().is_empty());
    }

    /// The table that a technician reads in the documentation is this one, row for row.
    #[test]
    fn the_documentation_has_the_table() {
        let schema = serde_json::to_value(Condition::schema()).unwrap();
        let described = schema["description"].as_str().unwrap();
        let within = |care: Care| {
            let days = care.within;
            let by = match days {
                _ if care.action == CareAction::CarryOn => String::new(),
                0.0 => ", today".to_owned(),
                1.0 => " within 1 day".to_owned(),
                _ => format!(" within {days} days"),
            };
            let by = if care.action == CareAction::StopAndAsk { by } else { by.replace(',', "") };
            format!("{}{by}", care.words())
        };
        let verdict = |verdict: Verdict| if verdict == Verdict::Act { "act" } else { "watch" };
        let mut lines = 0;
        for row in ROWS {
            let line = format!(
                "| {} | {} | {} | {} | {} |",
                called(row.observation),
                row.boundary,
                verdict(row.verdict),
                within(row.care),
                row.source
            );
            assert!(described.contains(&line), "{line}");
            lines += 1;
        }
        for rule in TOGETHER {
            let [(first, is), (second, at_least)] = rule.of;
            let holds = if is == Verdict::Act && at_least == Verdict::Watch {
                "act, and at least watch"
            } else {
                "at least watch each"
            };
            let line = format!(
                "| {} and {} | {holds} | act | {} | {} |",
                called(first),
                called(second),
                within(rule.care),
                rule.source
            );
            assert!(described.contains(&line), "{line}");
            lines += 1;
        }
        let told = described.lines().filter(|line| line.starts_with("| ")).count();
        assert_eq!(told, lines + 2, "the heading and its rule stand above");
    }
}
