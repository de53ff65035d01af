//! Dirty fluid made fit again: batches, what is taken out, the recycler's week and the loop.
//!
//! # Decisions
//!
//! - **A loop is judged by its worst sump on its worst day.** `fluid-loop` does not smear clean-outs into
//!   a steady bleed: a sump is followed from refill to clean-out in closed form, and limits hold for
//!   what it carries at either end. A bleed would call the old fluid cleaner than it is, by an eighth
//!   where a sump carries off a thirtieth of itself a day, evaporates half as much again and lives three
//!   months.
//! - **A loop's sumps are eliminated one by one.** Each is a straight line from what it is given to what
//!   it gives back, so the network's bordered system shrinks to one equation a property between the
//!   two tanks, and the work grows with the number of sumps and no faster. The sums of that equation do not
//!   depend on how much is recycled or with which water, so a search along those levers costs the same
//!   for any number of sumps but where it ends. Oil comes first, because oil
//!   that the recycler takes out leaves room that water fills, and water brings matter.
//! - **Recycled fluid goes where there is room for it**: refills first, then make-up where a group allows
//!   it, never more than a strength can take. What has no room is shown as surplus, not hidden.
//! - **The way there goes by whole days** and is exact for them: each day the same part of a group is
//!   due. It costs one step a group, day and property, whatever the fluid's age, and ends at exactly
//!   what the settled loop says.
//! - **Sizes are integrated, not sampled.** `separation` cuts a log-normal distribution into panels at every
//!   kink of the share removed (the cut, the ends of the drag law's ranges, the sizes of a grade list), eight
//!   Gauss points in each: right to 1e-11 against the closed form. What is left and what is taken out are two
//!   integrals, so that the balance checks them. A tank uses velocities with drag, a centrifuge Stokes, for
//!   which sigma is defined. `Separator::removed` gives another calculation the shares of one pass.
//! - **A recycler's plan is walked, never stepped.** Everything in `recycler` comes, goes or is worked at
//!   once or evenly, so its levels are straight lines from corner to corner, and an overflow is found to the
//!   moment. The recycler always works as early as it can and stops while the clean tank is full; no other way
//!   of running it keeps the dirty tank lower or the clean one fuller, which is why the smallest tanks and
//!   throughput agree with linear programmes over all ways to run it. What does not fit or is missing is
//!   counted and the plan goes on.
//! - **A tank that never runs over tells the risk.** The draws walk through the plan with a dirty tank without
//!   end; how high it rose answers for any capacity.
//! - **The balance of a recycler is that of all its feed**, brought to the target; the levels speak of the plan.
//!   Waste is a geometric sum or an integral, what is recovered a power or an exponential, so that one checks
//!   the other. A `separator` counts with its share of one pass, which is too hopeful on later passes, when
//!   what is left is finer; the answer says so.

pub mod blend;
pub mod fluid_loop;
pub mod recycler;
pub mod separation;
