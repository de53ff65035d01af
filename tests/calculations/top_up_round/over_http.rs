//! A round of top-ups as a table, in the address and on paper.

use crate::server::request;
use crate::{SERVICES, service};
use sumpwright_openapi::service::Service;

/// A table sent to it is the list of its sumps, and what there is to pour stands in the query.
#[test]
fn a_table_is_the_list_of_sumps() {
    let service: &Service = service("top-up-round");
    assert!(SERVICES.iter().any(|own| own.name == service.name));
    let table = "name,product,sump.capacity,sump.volume,sump.concentration,band.low,band.target,band.high\n\
                 lathe 1,A,200,150,5,5.5,6.25,7\n\
                 lathe 2,A,200,160,5.5,5.5,6.25,7\n";
    let query = "/v1/top-up-round?units=metric&margin=0&stocks.0.name=concentrate&stocks.0.product=A\
                 &stocks.0.concentration=100&stocks.1.name=water&stocks.1.concentration=0";
    let asked = request("POST", query).header("content-type", "text/csv").body(table);
    let answered = asked.send().expect("an answer");
    assert_eq!(answered.status(), 200);
    let text = answered.text().expect("text");
    assert!(text.contains("Mix 90 L at 7 % by volume"), "{text}");
    let asked = request(
        "GET",
        &format!(
            "{query}&pick=statement&sumps.0.name=x&sumps.0.product=A&sumps.0.sump.capacity=200\
         &sumps.0.sump.volume=150&sumps.0.sump.concentration=5&sumps.0.band.low=5.5\
         &sumps.0.band.target=6&sumps.0.band.high=7"
        ),
    );
    let text = asked.send().expect("an answer").text().expect("text");
    assert!(text.starts_with("Mix 50 L at 7 %"), "{text}");
}
