//! A sheet's limits on what is followed over time, beside those that a question sets itself.
//!
//! What is followed of nitrite, chloride, hardness and tramp oil is held against the boundary that
//! `condition` acts on. What does not mix in a straight line (pH, conductivity, microbes) or is no
//! content at all cannot be followed.

use super::SheetLimits;
use crate::fluid::batch::check_limits;
use crate::fluid::practice::{is_chloride, is_hardness, is_nitrite};
use crate::fluid::properties::{ContentLimit, Limits, OilLimit, PropertyName, TRAMP_OIL};
use crate::quantity::{Concentration, Content, Quantity};
use crate::sentence;
use crate::text::{Assumption, Faults, Sentence, listed};
use std::borrow::Cow;
use std::collections::BTreeSet;

/// The limits that what is followed is held against, and which of them are the sheet's.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptLimits<'a> {
    /// The stricter of both.
    pub limits: Cow<'a, Limits>,
    /// The ends that come from the sheet: of which property, whether its most, and the member.
    by_sheet: Vec<(PropertyName, bool, &'static str)>,
}

impl KeptLimits<'_> {
    /// Where the end of a limit stands in the request.
    #[must_use]
    pub fn pointer(&self, name: &str, is_most: bool) -> String {
        let by_sheet = self.by_sheet.iter().find(|(of, most, _)| of == name && *most == is_most);
        match by_sheet {
            Some((_, _, member)) => format!("/sheet/{member}"),
            None => format!("/limits/{name}/{}", if is_most { "max" } else { "min" }),
        }
    }

    /// The limit on a property.
    #[must_use]
    pub fn of(&self, name: &str) -> Option<&ContentLimit> {
        self.limits.matter.get(name)
    }

    /// Notes the limits of which the least is above the most.
    pub(crate) fn check(&self, faults: &mut Faults) {
        check_limits(&self.limits, faults);
    }
}

/// The limits of a question with those of its sheet on what is `followed`.
pub(crate) fn kept<'a, 'n>(
    limits: &'a Limits,
    sheet: Option<&SheetLimits>,
    followed: impl IntoIterator<Item = &'n str>,
) -> KeptLimits<'a> {
    let Some(sheet) = sheet else {
        return KeptLimits { limits: Cow::Borrowed(limits), by_sheet: Vec::new() };
    };
    let (mut all, mut by_sheet) = (limits.clone(), Vec::new());
    for name in followed {
        let mut note = |is_most: bool, member| {
            by_sheet.push((PropertyName::from(name), is_most, member));
        };
        if name == TRAMP_OIL {
            let own = all.tramp_oil.unwrap_or(OilLimit { min: None, max: None });
            let at_most = Concentration::of(sheet.most_oil().at).ok();
            if is_stricter(at_most, own.max, true) {
                all.tramp_oil = Some(OilLimit { max: at_most, ..own });
                note(true, "tramp_oil");
            }
            continue;
        }
        let mut limit = all.matter.get(name).copied().unwrap_or(NO_LIMIT);
        for (is_most, bound, member) in sheet.on(name) {
            let end = if is_most { &mut limit.max } else { &mut limit.min };
            if is_stricter(bound, *end, is_most) {
                *end = bound;
                note(is_most, member);
            }
        }
        if limit != NO_LIMIT {
            all.matter.insert(PropertyName::from(name), limit);
        }
    }
    KeptLimits { limits: Cow::Owned(all), by_sheet }
}

const NO_LIMIT: ContentLimit = ContentLimit { min: None, max: None };

fn is_stricter<Q: Quantity + PartialOrd>(bound: Option<Q>, own: Option<Q>, is_most: bool) -> bool {
    match (bound, own) {
        (None, _) => false,
        (Some(_), None) => true,
        (Some(bound), Some(own)) => {
            if is_most {
                bound < own
            } else {
                bound > own
            }
        }
    }
}

impl SheetLimits {
    /// Its limits on a property: whether it is the most, the bound, and the member.
    fn on(&self, name: &str) -> [(bool, Option<Content>, &'static str); 2] {
        const NONE: (bool, Option<Content>, &str) = (true, None, "");
        if is_nitrite(name) {
            [(true, Content::of(self.most_nitrite().at).ok(), "nitrite"), NONE]
        } else if is_chloride(name) {
            [(true, self.chloride, "chloride"), NONE]
        } else if is_hardness(name) {
            [
                (true, self.hardness_high, "hardness_high"),
                (false, self.hardness_low, "hardness_low"),
            ]
        } else {
            [NONE; 2]
        }
    }

    /// Notes limits of which the least is above the most; `pointer` is where the sheet lies.
    pub(crate) fn check(&self, pointer: &str, faults: &mut Faults) {
        let mut check = |is_crossed: bool, member: &str, text: Sentence| {
            if is_crossed {
                faults.add(format!("{pointer}/{member}"), text);
            }
        };
        check(
            self.ph_low.zip(self.ph_high).is_some_and(|(low, high)| low > high),
            "ph_low",
            sentence!("The lowest pH of the sheet is above its highest."),
        );
        check(
            self.hardness_low.zip(self.hardness_high).is_some_and(|(low, high)| low > high),
            "hardness_low",
            sentence!("The least hardness of the sheet is above its most."),
        );
    }

    /// What was taken for granted of it where so much was followed.
    pub(crate) fn assumptions(&self, followed: &BTreeSet<&str>) -> Vec<Assumption> {
        let mut published = Vec::new();
        if followed.iter().any(|name| is_nitrite(name)) && !self.most_nitrite().own {
            let most = Content::measure_of(self.most_nitrite().at);
            published.push(sentence!("nitrite at most {} (TRGS 611)", most));
        }
        if followed.contains(TRAMP_OIL) && !self.most_oil().own {
            let most = Concentration::measure_of(self.most_oil().at);
            published.push(sentence!("tramp oil at most {} (common practice, no source)", most));
        }
        let published = (!published.is_empty()).then(|| {
            let text = sentence!(
                "Where the sheet has no stricter limit, the one that `condition` acts on was held \
                 against: {}.",
                listed(published)
            );
            Assumption::new("/sheet", text)
        });
        published.into_iter().chain(self.not_followed(followed)).collect()
    }

    /// What of the sheet was not followed; none where all of it was.
    fn not_followed(&self, followed: &BTreeSet<&str>) -> Option<Assumption> {
        let is_followed = |test: fn(&str) -> bool| followed.iter().any(|name| test(name));
        let given = [
            (self.ph_low.is_some() || self.ph_high.is_some() || self.ph_fall.is_some(), "pH"),
            (self.conductivity.is_some(), "conductivity"),
            (self.bacteria.is_some(), "bacteria"),
            (self.nitrite.is_some() && !is_followed(is_nitrite), "nitrite"),
            (self.chloride.is_some() && !is_followed(is_chloride), "chloride"),
            (
                (self.hardness_low.is_some() || self.hardness_high.is_some())
                    && !is_followed(is_hardness),
                "hardness",
            ),
            (self.tramp_oil.is_some() && !is_followed(|name| name == TRAMP_OIL), "tramp oil"),
            (self.temperature.is_some(), "temperature"),
            (self.days.is_some(), "days between clean-outs"),
        ];
        let left: Vec<Sentence> = given
            .into_iter()
            .filter(|(is_left, _)| *is_left)
            .map(|(_, name)| sentence!("{}", name))
            .collect();
        if left.is_empty() {
            return None;
        }
        let text = sentence!(
            "Of the sheet's limits these were not followed: {}. Nothing says how much of it there \
             is, or it does not add up when fluids mix; measure it, and judge it by `condition`.",
            listed(left)
        );
        Some(Assumption::new("/sheet", text))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(json: serde_json::Value) -> SheetLimits {
        serde_json::from_value(json).unwrap()
    }

    /// The stricter of both, from where it comes; of what is not followed nothing.
    #[test]
    fn the_stricter_limit_is_kept() {
        let limits: Limits =
            serde_json::from_value(serde_json::json!({ "chloride": { "max": 120 } })).unwrap();
        let sheet = sheet(serde_json::json!({
            "chloride": 150, "hardness_high": 400, "nitrite": 90, "tramp_oil": 2,
        }));
        let kept = kept(&limits, Some(&sheet), ["chloride", "total_hardness", "no2"]);
        let most = |name: &str| kept.of(name).and_then(|limit| limit.max).map(Quantity::get);
        assert_eq!(most("chloride"), Some(120.0));
        assert_eq!(most("total_hardness"), Some(400.0));
        // The published one is stricter than the sheet's.
        assert_eq!(most("no2"), Some(20.0));
        assert_eq!(kept.limits.tramp_oil, None);
        assert_eq!(kept.pointer("chloride", true), "/limits/chloride/max");
        assert_eq!(kept.pointer("total_hardness", true), "/sheet/hardness_high");
    }
}
