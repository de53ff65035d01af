//! What strengths and intervals alone decide, whatever is dissolved, and what
//! all groups together come to.
//!
//! What a group is fed is a straight line in two shares of the recycled stream,
//! one for refills and one for make-up, the same two for all groups. So the sums
//! over the groups are taken once, and each settled loop costs one equation a
//! property, however many groups there are.

use super::cycle::Cycle;
use super::shop::{LoopGroup, LoopShop};

/// A smaller share than this of what there was is rounding and not left over.
const ROUNDING_OF_WHAT_IS_LEFT: f64 = 1e-14;

/// What a stream of the recycled fluid leaves to be filled with fresh fluid.
fn left(all: f64, taken: f64) -> f64 {
    let left = all - taken;
    if left > ROUNDING_OF_WHAT_IS_LEFT * all { left } else { 0.0 }
}

/// Sums over the groups whose fluid returns, each by what of it is there when
/// the sumps are drained.
#[derive(Debug, Clone, PartialEq, Default)]
struct ReturningSums {
    /// Concentrate and water of refills, L/day, and the room in them.
    refill_c: f64,
    refill_w: f64,
    refill_room: f64,
    /// The same of make-up.
    make_up_c: f64,
    make_up_w: f64,
    make_up_room: f64,
    /// What the work brings, by property, L/day or mg/day.
    gains: Vec<f64>,
}

/// A shop's flows at one length of the fluid's life.
pub(super) struct Exchange {
    pub(super) cycles: Vec<Cycle>,
    /// What of the recycled stream each group could take for refills if
    /// everything were recycled, as a share of that stream, and all together.
    refills: (Vec<f64>, f64),
    /// The same for make-up.
    make_up: (Vec<f64>, f64),
    /// What comes into the dirty tank in a day, L: concentrate, and the rest.
    pub(super) back_c: f64,
    pub(super) back_rest: f64,
    returning: ReturningSums,
}

impl Exchange {
    /// The shop when every interval between clean-outs is `life` times as long.
    pub(super) fn of(shop: &LoopShop, life: f64) -> Self {
        let groups = &shop.groups;
        let cycles: Vec<Cycle> = groups.iter().map(|group| Cycle::of(group, life)).collect();
        let (mut back_c, mut back_rest) = (0.0, 0.0);
        for (group, cycle) in groups.iter().zip(&cycles).filter(|(group, _)| group.returns) {
            back_c += cycle.drained * group.c;
            back_rest += cycle.drained * (1.0 - group.c);
        }
        // Oil taken out leaves more room, so counting it in as if it stayed is
        // on the safe side.
        let most_c = (1.0 - shop.lost) * (1.0 - shop.r_c) * back_c;
        let most_rest = (1.0 - shop.lost) * back_rest;
        let room = |may: bool, c: f64, rest: f64| {
            let room = (c / most_c).min(rest / most_rest);
            if may && room.is_finite() { room } else { 0.0 }
        };
        let refills = groups.iter().zip(&cycles).map(|(group, cycle)| {
            let drained = cycle.drained;
            room(group.refills, group.c * drained, (1.0 - group.c) * drained)
        });
        let make_up = groups
            .iter()
            .map(|group| room(group.tops_up, group.n * group.m_c, (group.n * group.m_w).max(0.0)));
        let with_sum = |rooms: Vec<f64>| {
            let all = rooms.iter().sum();
            (rooms, all)
        };
        let (refills, make_up) = (with_sum(refills.collect()), with_sum(make_up.collect()));
        let mut exchange = Self {
            cycles,
            refills,
            make_up,
            back_c,
            back_rest,
            returning: ReturningSums::default(),
        };
        exchange.returning = exchange.sum(shop);
        exchange
    }

    fn sum(&self, shop: &LoopShop) -> ReturningSums {
        let mut sum =
            ReturningSums { gains: vec![0.0; shop.properties()], ..ReturningSums::default() };
        for (g, (group, cycle)) in shop.groups.iter().zip(&self.cycles).enumerate() {
            if !group.returns || cycle.drained <= 0.0 {
                continue;
            }
            let (gamma, own) = (cycle.gamma, cycle.drained * cycle.own);
            sum.refill_c += gamma * group.c * cycle.drained;
            sum.refill_w += gamma * (1.0 - group.c) * cycle.drained;
            sum.refill_room += gamma * self.refills.0[g];
            sum.make_up_c += own * group.m_c;
            sum.make_up_w += own * group.m_w;
            sum.make_up_room += own * self.make_up.0[g] / group.n;
            sum.gains.iter_mut().enumerate().for_each(|(p, gains)| *gains += own * shop.gain(p, g));
        }
        sum
    }

    /// How the share ε of the dirty tank's fluid is divided when it comes back:
    /// refills first, each according to its room and no more than that.
    pub(super) fn divided(&self, back: f64) -> RecycledDivision {
        let (all_refills, all_make_up) = (self.refills.1, self.make_up.1);
        let most = all_refills.max(back);
        let left = (back - all_refills).max(0.0);
        let tops_up = left > 0.0 && all_make_up > 0.0;
        RecycledDivision {
            refills: if most > 0.0 { most.recip() } else { 0.0 },
            make_up: if tops_up { (left / all_make_up).min(1.0) / back } else { 0.0 },
        }
    }

    /// What share of the recycled stream has a place in sumps.
    pub(super) fn taken(&self, division: RecycledDivision) -> f64 {
        division.refills * self.refills.1 + division.make_up * self.make_up.1
    }

    /// What comes back of a litre, or of any amount, in what the clean tank gives.
    pub(super) fn again(&self, division: RecycledDivision) -> f64 {
        let sum = &self.returning;
        division.refills * sum.refill_room + division.make_up * sum.make_up_room
    }

    /// The fresh concentrate among what comes back when the clean tank gives `c`
    /// litres of it, L/day.
    pub(super) fn fresh_c(&self, division: RecycledDivision, c: f64) -> f64 {
        let sum = &self.returning;
        left(sum.refill_c, c * division.refills * sum.refill_room)
            + left(sum.make_up_c, c * division.make_up * sum.make_up_room)
    }

    /// The same of fresh water when it gives `rest` litres of water and oil.
    pub(super) fn fresh_w(&self, division: RecycledDivision, rest: f64) -> f64 {
        let sum = &self.returning;
        left(sum.refill_w, rest * division.refills * sum.refill_room)
            + left(sum.make_up_w, rest * division.make_up * sum.make_up_room)
    }

    /// What the work has brought of a property into what comes back, in a day.
    pub(super) fn gained(&self, p: usize) -> f64 {
        self.returning.gains[p]
    }

    /// What group `g` is fed when the clean tank gives `c` litres of concentrate
    /// and `rest` litres of water and oil.
    pub(super) fn mix(
        &self,
        g: usize,
        group: &LoopGroup,
        division: RecycledDivision,
        c: f64,
        rest: f64,
    ) -> GroupFeed {
        let drained = self.cycles[g].drained;
        let chi = self.refills.0[g] * division.refills;
        let chi_m = self.make_up.0[g] * division.make_up;
        GroupFeed {
            chi,
            chi_m,
            y: left(group.c * drained, chi * c),
            w: left((1.0 - group.c) * drained, chi * rest),
            m_c: left(group.m_c, chi_m * c / group.n),
            m_w: left(group.m_w, chi_m * rest / group.n),
        }
    }
}

/// What a group gets of the recycled stream for each unit of the room it has.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct RecycledDivision {
    refills: f64,
    make_up: f64,
}

/// What one group is fed with, in a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct GroupFeed {
    /// The share of the recycled stream that goes into refills.
    pub(super) chi: f64,
    /// The share of it that goes into make-up.
    pub(super) chi_m: f64,
    /// Fresh concentrate and water in refills of the whole group, L/day.
    pub(super) y: f64,
    pub(super) w: f64,
    /// Fresh concentrate and water in the make-up of one sump, L/day.
    pub(super) m_c: f64,
    pub(super) m_w: f64,
}
