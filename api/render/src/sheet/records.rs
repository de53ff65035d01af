//! What is written down by hand at the foot of a job sheet.

use maud::{Markup, html};
use sumpwright_engine::job_sheet::SheetRecords;

/// So many lines has a job that is done again and again.
const TIMES: usize = 8;

/// The lines at the foot.
pub(super) fn lines(records: SheetRecords) -> Markup {
    match records {
        SheetRecords::Once => once(&["Date", "Who", "Signature"]),
        SheetRecords::BeforeAndAfter => {
            once(&["Date", "Who", "Reading before", "Reading after", "Signature"])
        }
        SheetRecords::EachTime => html! {
            table.log {
                thead { tr {
                    @for column in ["Date", "Who", "Reading before", "Reading after", "Signature"] {
                        th scope="col" { (column) }
                    }
                } }
                tbody { @for _ in 0..TIMES { tr { @for _ in 0..5 { td {} } } } }
            }
        },
    }
}

fn once(lines: &[&str]) -> Markup {
    html! {
        div.records { @for line in lines { p { (line) } } }
    }
}
