//! HTTP around the engine, without any chemistry.
//!
//! - [`configuration`], [`command_line`]: the settings of the service and the program
//! - `environment`: the variables that are settings
//! - `address`: the address that the service listens at
//! - `invitation`: the text that a person reads who starts the service
//! - [`check`]: what would keep the service from starting
//! - [`filing`]: digests and unit codes of a record, on request
//! - [`solve`]: a document or a table answered in the terminal
//! - [`browser`]: opening the page in a browser
//! - [`shared`]: the state that all requests share
//! - [`ask`]: the one handler that serves every calculation
//! - [`table`], [`documents`]: many documents at once, a row or a line each
//! - `stream`: what comes in and goes out at the same time
//! - [`operator_page`]: the operator's page
//! - [`documentation_page`]: the page that shows every operation
//! - [`reference_pages`]: the list of calculations, the OpenAPI document, the types of problems
//! - [`http`]: the parts that every answer over HTTP shares
//! - [`access`]: keys, request limits and the TLS certificate
//! - [`load`]: documents from slow callers; calculations that may take long
//! - [`observability`]: the log, traces, metrics and the probes of a supervisor

use access::tls::Tls;
use actix_web::middleware::{Condition, from_fn};
use actix_web::{App, HttpServer, web};
use configuration::Configuration;
use http::{cors, door, gate};
use observability::health;
use shared::Shared;
use std::io;
use std::net::TcpListener;
use std::sync::Arc;
use std::time::Duration;

pub mod access;
mod address;
pub mod ask;
pub mod browser;
pub mod check;
pub mod command_line;
pub mod configuration;
pub mod documentation_page;
pub mod documents;
mod environment;
pub mod filing;
pub mod http;
mod invitation;
pub mod load;
pub mod observability;
pub mod operator_page;
pub mod reference_pages;
pub mod shared;
pub mod solve;
mod stream;
pub mod table;
mod watch;

/// The commit that this program was built from, where whoever built it has said so in `SUMPWRIGHT_COMMIT`.
pub const COMMIT: Option<&str> = option_env!("SUMPWRIGHT_COMMIT");

/// Idle time after which a connection is closed: longer than that of load balancers
/// in front of the service, so that they close it first.
const IDLE: Duration = Duration::from_secs(75);

/// Serves on a listener that is already bound, until the process is told to stop.
pub fn serve(
    listener: TcpListener,
    shared: Shared,
    configuration: &Configuration,
) -> io::Result<()> {
    let shared = web::Data::new(shared);
    let services = web::Data::from(Arc::clone(&shared.services));
    let page = web::Data::new(operator_page::OperatorPage::default());
    let documentation = web::Data::new(documentation_page::DocumentationPage::default());
    let openapi = web::Data::new(reference_pages::OpenApiFile::default());
    let tls = shared.tls.as_ref().map(Tls::server).transpose().map_err(io::Error::other)?;
    let (origins, within) = (configuration.cors_origins.clone(), configuration.receive_within());
    let of_worker = shared.clone();
    let server = HttpServer::new(move || {
        let shared = of_worker.clone();
        let let_out = from_fn(move |request, next| gate::let_out(shared.clone(), request, next));
        let shared = of_worker.clone();
        let observe = from_fn(move |request, next| gate::observe(shared.clone(), request, next));
        App::new()
            .app_data(of_worker.clone())
            .app_data(services.clone())
            .app_data(openapi.clone())
            .app_data(page.clone())
            .app_data(documentation.clone())
            .configure(|config| ask::configure(config, &services))
            .configure(reference_pages::configure)
            .configure(documentation_page::configure)
            .configure(operator_page::configure)
            .configure(health::configure)
            .default_service(door::elsewhere(web::to(reference_pages::nothing_here)))
            .wrap(let_out)
            .wrap(Condition::new(!origins.is_empty(), cors::rules(&origins)))
            .wrap(from_fn(cors::refusals))
            .wrap(observe)
    });
    let cores = || std::thread::available_parallelism().map_or(1, usize::from);
    let workers = configuration.workers.map_or_else(cores, usize::from);
    let server = server
        .workers(workers)
        .max_connections(configuration.connections.get().div_ceil(workers))
        .client_request_timeout(within)
        .keep_alive(IDLE)
        .disable_signals();
    actix_web::rt::System::new().block_on(async {
        let server = match tls {
            Some(tls) => server.listen_rustls_0_23(listener, tls)?,
            None => server.listen(listener)?,
        };
        let server = server.run();
        let stop = watch::stop(server.handle(), shared.clone(), configuration.clone());
        actix_web::rt::spawn(stop);
        actix_web::rt::spawn(watch::reload(shared.clone()));
        let served = server.await;
        shared.spans.end();
        served
    })
}
