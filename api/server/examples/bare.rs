//! The yardstick of the load test: what actix-web alone takes to read a top-up
//! request and to answer with as many bytes as the service does.
//!
//! Takes the file with the body to answer, and prints the address it serves on.

use actix_web::{App, HttpResponse, HttpServer, web};
use serde::Deserialize;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(dead_code, reason = "the request is read and not used")]
struct TopUp {
    units: String,
    reference: Option<String>,
    sump: Sump,
    target: Target,
    stocks: Option<Vec<Stock>>,
    draining: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(dead_code, reason = "the request is read and not used")]
struct Sump {
    capacity: f64,
    volume: f64,
    concentration: Option<f64>,
    reading: Option<Reading>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(dead_code, reason = "the request is read and not used")]
struct Reading {
    method: String,
    brix: f64,
    factor: f64,
    water_brix: Option<f64>,
    temperature: Option<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(dead_code, reason = "the request is read and not used")]
struct Target {
    concentration: f64,
    volume: Option<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(dead_code, reason = "the request is read and not used")]
struct Stock {
    name: String,
    concentration: f64,
    volume: Option<f64>,
}

async fn top_up(body: web::Bytes, answer: web::Data<web::Bytes>) -> HttpResponse {
    match serde_json::from_slice::<TopUp>(&body) {
        Ok(_) => HttpResponse::Ok().content_type("application/json").body(answer.as_ref().clone()),
        Err(_) => HttpResponse::BadRequest().finish(),
    }
}

#[actix_web::main]
async fn main() -> std::io::Result<()> {
    let file = std::env::args().nth(1).ok_or_else(|| {
        std::io::Error::other("give the file with the body to answer as the only argument")
    })?;
    let answer = web::Data::new(web::Bytes::from(std::fs::read(file)?));
    let app =
        move || App::new().app_data(answer.clone()).service(web::resource("/v1/top-up").to(top_up));
    let server = HttpServer::new(app).workers(1).bind("127.0.0.1:0")?;
    for address in server.addrs() {
        println!("http://{address}");
    }
    server.run().await
}
