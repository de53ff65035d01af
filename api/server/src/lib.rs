//! HTTP around the engine, and nothing of chemistry.
//!
//! - [`ask`]: the one handler that serves every calculation
//! - [`options`]: what a query may say besides the question
//! - [`respond`]: answers and problems as responses
//! - [`sheet`]: an answer's steps as a page to print
//! - [`picture`]: a chart as a drawing to pin to a board
//! - [`table`]: tables, a row a document, as a stream
//! - [`page`]: the operator's page
//! - [`pages`]: the list of calculations, the OpenAPI document, the pages for people
//! - [`command_line`]: what the program can be told

use actix_web::{App, HttpServer, web};
use std::net::TcpListener;
use std::sync::Arc;
use sumpwright_openapi::service::Services;

pub mod ask;
pub mod command_line;
pub mod options;
pub mod page;
pub mod pages;
pub mod picture;
pub mod respond;
pub mod sheet;
pub mod table;

/// The longest single document, in bytes.
pub const DOCUMENT_MOST: usize = 8 * 1024 * 1024;

/// Serves `services` on a listener that is already bound, with so many worker
/// threads, or one for each core, until the process is told to stop.
pub fn serve(
    listener: TcpListener,
    services: Arc<Services>,
    workers: Option<usize>,
) -> std::io::Result<()> {
    let services = web::Data::from(services);
    let page = web::Data::new(page::Page::default());
    let server = HttpServer::new(move || {
        App::new()
            .app_data(services.clone())
            .app_data(page.clone())
            .app_data(web::PayloadConfig::new(DOCUMENT_MOST))
            .configure(|config| ask::configure(config, &services))
            .configure(pages::configure)
            .configure(page::configure)
            .default_service(web::to(pages::nothing_here))
    });
    let server = match workers {
        Some(workers) => server.workers(workers),
        None => server,
    };
    actix_web::rt::System::new().block_on(async { server.listen(listener)?.run().await })
}
