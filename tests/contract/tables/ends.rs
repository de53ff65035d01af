//! Tables that end as spreadsheets and editors end them.

use crate::server::request;
use serde_json::json;

/// Blank lines and rows below the last row take no row away, over the network where rows come in pieces.
#[test]
fn whatever_stands_below_the_last_row_every_row_is_answered() {
    let query = "units=metric&sump.capacity=200&target.concentration=8&columns=answer.add.0.volume";
    let answered = |table: String| {
        let asked = request("POST", &format!("/v1/top-up?{query}"));
        let answered = asked.header("content-type", "text/csv").body(table).send();
        answered.expect("the server answers").text().expect("a table")
    };
    for end in ["", "\n", "\n\n", "\n\n\n", "\r\n\r\n", "\n \n"] {
        let table = format!("sump.volume,sump.concentration\n140,7\n150,6{end}");
        let answered = answered(table);
        let rows: Vec<&str> = answered.lines().filter(|row| row.len() > 4).collect();
        assert_eq!(rows.len(), 3, "{}: {answered}", json!(end));
        assert_eq!(rows[1], "140,7,6.2,", "{}", json!(end));
        assert!(rows[2].starts_with("150,6,7"), "{}: {answered}", json!(end));
    }
}
