//! The material balance behind a projection.

use super::Disposal;
use super::accounts::Accounts;
use super::bought::drums_by_month;
use super::ledger::{CONCENTRATE, SOLIDS, WasteLedger, add};
use super::question::ChangesFall;
use super::stream::{MonthlyFlow, Timing, WasteStream};
use super::track::{count, month_of};
use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, StreamDirection};
use crate::fluid::properties::PropertyName;
use crate::handbook::conversions::DAYS_PER_MONTH;
use crate::quantity::Quantity;
use crate::text::Refusal;

/// In: what was in the sumps, what was bought, what the fluid picked up. Out:
/// each stream as the months booked it, as far as it was taken away. Stays: the
/// sumps as they are promised, the open drum, and what is still kept as waste.
pub(super) fn balance(
    question: &Disposal,
    names: &[PropertyName],
    ledger: &WasteLedger,
    accounts: &Accounts,
) -> Result<Balance, Refusal> {
    let mut rows: Vec<(String, StreamDirection, Vec<f64>)> = vec![];
    rows.push(("sumps at the start".into(), StreamDirection::In, ledger.start.clone()));
    let mut concentrate = ledger.in_all(MonthlyFlow::Concentrate);
    let mut drums = vec![0.0; ledger.width];
    let mut open = vec![0.0; ledger.width];
    if let (Some(drum), Some(by_month)) = (question.drum(), drums_by_month(question, ledger)) {
        let sum = |part: fn(&super::bought::Drums) -> f64| by_month.iter().map(part).sum::<f64>();
        let (bought, emptied) = (sum(|drums| drums.bought), sum(|drums| drums.emptied));
        let used = concentrate[CONCENTRATE];
        concentrate[CONCENTRATE] = bought * drum.volume.get();
        drums[SOLIDS] = bought * drum.empty_mass.get();
        open[CONCENTRATE] = (concentrate[CONCENTRATE] - used).max(0.0);
        open[SOLIDS] = (bought - emptied) * drum.empty_mass.get();
    }
    rows.push(("concentrate bought".into(), StreamDirection::In, concentrate));
    rows.push(("drums bought".into(), StreamDirection::In, drums));
    for (name, flow) in [
        ("water bought", MonthlyFlow::Water),
        ("filter media bought", MonthlyFlow::NewMedia),
        ("tramp oil leaked in", MonthlyFlow::Leaked),
        ("fines picked up", MonthlyFlow::Fines),
    ] {
        rows.push((name.into(), StreamDirection::In, ledger.in_all(flow)));
    }
    rows.push(("evaporated".into(), StreamDirection::Out, ledger.in_all(MonthlyFlow::Evaporated)));
    let mut kept = Vec::new();
    for account in &accounts.streams {
        let mut taken = ledger.in_all(MonthlyFlow::Waste(account.stream));
        if account.counts && question.storage.is_some() {
            let on_site = on_site(question, ledger, accounts, account.stream);
            add(&mut taken, &on_site, -1.0);
            kept.push((
                format!("{}, on site", account.stream.words()),
                StreamDirection::Stays,
                on_site,
            ));
        }
        let name = format!("{}, taken away", account.stream.words());
        rows.push((
            name,
            StreamDirection::Out,
            taken.iter().map(|amount| amount.max(0.0)).collect(),
        ));
    }
    rows.append(&mut kept);
    rows.push(("sumps at the end".into(), StreamDirection::Stays, ledger.end.clone()));
    rows.push(("open drum of concentrate".into(), StreamDirection::Stays, open));
    close(question, names, &rows)
}

/// What of a stream has not been taken away at the end.
fn on_site(
    question: &Disposal,
    ledger: &WasteLedger,
    accounts: &Accounts,
    stream: WasteStream,
) -> Vec<f64> {
    let end = count(ledger.months) * DAYS_PER_MONTH;
    let (taken_months, taken_share) = month_of(accounts.last_pickup(end).min(end));
    let last_day = question.changes_fall() == ChangesFall::OnTheLastDay;
    let mut on_site = vec![0.0; ledger.width];
    for month in taken_months..ledger.months {
        let share = if month == taken_months { 1.0 - taken_share } else { 1.0 };
        for timing in Timing::BOTH {
            let all_is_there = last_day && timing == Timing::WithChanges;
            let row = ledger.row(month, MonthlyFlow::Waste(stream), timing);
            add(&mut on_site, row, if all_is_there { 1.0 } else { share });
        }
    }
    on_site
}

/// A row that weighs less than this share of all that comes in is rounding.
const NOTHING: f64 = 1e-13;

fn close(
    question: &Disposal,
    names: &[PropertyName],
    rows: &[(String, StreamDirection, Vec<f64>)],
) -> Result<Balance, Refusal> {
    let densities = question.densities();
    let oil_followed = question.has_tramp_oil();
    let fluids: Vec<(&str, StreamDirection, Fluid)> = rows
        .iter()
        .map(|(name, way, row)| (name.as_str(), *way, densities.fluid(row, names, oil_followed)))
        .collect();
    let ins = fluids.iter().filter(|(_, way, _)| *way == StreamDirection::In);
    let through: f64 = ins.map(|(_, _, fluid)| fluid.mass).sum();
    let streams: Vec<(&str, StreamDirection, &Fluid)> = fluids
        .iter()
        .filter(|(_, _, fluid)| fluid.mass > through * NOTHING)
        .map(|(name, way, fluid)| (*name, *way, fluid))
        .collect();
    Balance::close(&streams)
}
