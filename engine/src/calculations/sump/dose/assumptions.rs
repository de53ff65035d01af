//! What a dose takes for granted.

use super::Dose;
use crate::fluid::practice::read_with_pumps_off;
use crate::sentence;
use crate::text::Assumption;

impl Dose {
    pub(super) fn assumptions(&self) -> Vec<Assumption> {
        let mut assumptions = vec![
            Assumption::volumes_add(),
            read_with_pumps_off("/sump/volume"),
            Assumption::new(
                "/wanted",
                sentence!(
                    "The dose was counted on the fluid in the sump before it, as labels do; the \
                     product's own volume then leaves the content a little below what is wanted."
                ),
            ),
        ];
        if self.now.is_none() && self.last_dose.is_none() {
            let text = sentence!("The sump was assumed to hold none of it.");
            assumptions.push(Assumption::new("/now", text));
        }
        if self.product.active_share.is_none() {
            let text = sentence!("Contents were taken to count the product as it is.");
            assumptions.push(Assumption::new("/product/active_share", text));
        }
        if self.product.density.is_none() {
            assumptions.push(Assumption::weighs_like_water("/product/density", &self.product.name));
        }
        if self.last_dose.is_some() || self.lasts_to.is_some() {
            let text = sentence!(
                "The sump was assumed to be kept at its level by make-up that brings none of it."
            );
            assumptions.push(Assumption::new("/losses", text));
            match &self.losses {
                Some(losses) => assumptions.extend(losses.assumptions("/losses")),
                None => {
                    let text = sentence!("Nothing was assumed to be carried off.");
                    assumptions.push(Assumption::new("/losses", text));
                }
            }
            if self.product.half_life_days.is_none() {
                let text = sentence!("None of it was assumed to be used up in the fluid.");
                assumptions.push(Assumption::new("/product/half_life_days", text));
            }
        }
        assumptions
    }
}
