//! Spans for a collector, by OTLP.

use super::trace::{RequestEnd, TracePlace};
use opentelemetry::trace::{
    Span, SpanContext, SpanId, SpanKind, Status, TraceContextExt, TraceFlags, TraceId, TraceState,
    Tracer, TracerProvider,
};
use opentelemetry::{Context, KeyValue};
use opentelemetry_otlp::{Protocol, SpanExporter, WithExportConfig, WithHttpConfig};
use opentelemetry_sdk::Resource;
use opentelemetry_sdk::error::OTelSdkResult;
use opentelemetry_sdk::trace::{SdkTracer, SdkTracerProvider, Span as SdkSpan, SpanData};
use reqwest::blocking::Client;
use std::fmt::Display;
use std::str::FromStr;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;
use sumpwright_engine::VERSION;

/// Maximum time for the collector to accept spans.
const WITHIN: Duration = Duration::from_secs(10);

/// The exporter of spans, if there is one.
pub struct Spans(Option<Collector>);

struct Collector {
    provider: SdkTracerProvider,
    tracer: SdkTracer,
}

/// The span of one request, and its place in the trace.
pub struct RequestSpan {
    /// The place of the request in its trace.
    pub place: TracePlace,
    span: Option<SdkSpan>,
}

impl Spans {
    /// Sends spans to `endpoint`, in batches from a separate thread.
    pub fn of(endpoint: Option<&str>) -> Result<Self, String> {
        let Some(endpoint) = endpoint else { return Ok(Self(None)) };
        // The exporter's client needs a TLS provider, although it does not use TLS
        // here. The first provider installed in this process stays.
        let _ = rustls::crypto::ring::default_provider().install_default();
        let wrong = |error: &dyn Display| format!("otlp_endpoint {endpoint}: {error}");
        let mut exporter = SpanExporter::builder()
            .with_http()
            .with_endpoint(endpoint)
            .with_protocol(Protocol::HttpBinary);
        // The exporter's own client reads the certificates of the machine even if it does not use
        // them, and fails if there are none, as in most containers.
        if endpoint.starts_with("http://") {
            let client = Client::builder().timeout(WITHIN).tls_certs_only([]).build();
            exporter = exporter.with_http_client(client.map_err(|error| wrong(&error))?);
        }
        let exporter = exporter.build().map_err(|error| wrong(&error))?;
        let resource = Resource::builder()
            .with_service_name("sumpwright")
            .with_attribute(KeyValue::new("service.version", VERSION))
            .build();
        let provider = SdkTracerProvider::builder()
            .with_batch_exporter(Telling { exporter, told: AtomicBool::new(false) })
            .with_resource(resource)
            .build();
        let tracer = provider.tracer("sumpwright");
        Ok(Self(Some(Collector { provider, tracer })))
    }

    /// Begins the span of a request, below the caller's span if there is one, with the state that the caller's
    /// own tools keep in `tracestate`.
    pub fn begin(
        &self,
        method: &str,
        caller: Option<TracePlace>,
        state: Option<&str>,
    ) -> RequestSpan {
        let Some(Collector { tracer, .. }) = &self.0 else {
            return RequestSpan { place: TracePlace::below(caller), span: None };
        };
        let builder = tracer.span_builder(method.to_owned()).with_kind(SpanKind::Server);
        let parent = caller.map_or_else(Context::new, |caller| {
            Context::new().with_remote_span_context(SpanContext::new(
                TraceId::from(caller.trace),
                SpanId::from(caller.span),
                TraceFlags::new(caller.flags),
                true,
                state.and_then(|state| TraceState::from_str(state).ok()).unwrap_or_default(),
            ))
        });
        let span = tracer.build_with_context(builder, &parent);
        let context = span.span_context();
        let place = TracePlace {
            trace: u128::from_be_bytes(context.trace_id().to_bytes()),
            span: u64::from_be_bytes(context.span_id().to_bytes()),
            flags: context.trace_flags().to_u8(),
        };
        RequestSpan { place, span: Some(span) }
    }

    /// Sends the spans that have not been sent yet.
    pub fn end(&self) {
        if let Some(collector) = &self.0
            && let Err(error) = collector.provider.shutdown()
        {
            tracing::warn!(%error, "spans were not sent");
        }
    }
}

impl RequestSpan {
    /// Ends the span with the outcome of the request, named by the semantic conventions
    /// for HTTP.
    pub fn end(self, end: &RequestEnd<'_>) {
        let Some(mut span) = self.span else { return };
        // By the route: names of spans are few, whatever is asked.
        span.update_name(match end.route {
            Some(route) => format!("{} {route}", end.method),
            None => end.method.to_owned(),
        });
        let mut note = |name: &'static str, text: &str| {
            span.set_attribute(KeyValue::new(name, text.to_owned()));
        };
        note("http.request.method", end.method);
        note("url.path", end.path);
        note("sumpwright.request_id", end.id);
        note("sumpwright.outcome", end.outcome);
        end.route.iter().for_each(|route| note("http.route", route));
        end.calculation.iter().for_each(|name| note("sumpwright.calculation", name));
        end.caller.iter().for_each(|name| note("sumpwright.caller", name));
        span.set_attribute(KeyValue::new("http.response.status_code", i64::from(end.status)));
        if end.status >= 500 {
            span.set_status(Status::error(end.outcome));
        }
        span.end();
    }
}

/// An exporter that says in the log when spans are lost, and when they arrive again.
#[derive(Debug)]
struct Telling {
    exporter: SpanExporter,
    /// Whether the last spans were lost, which is said once.
    told: AtomicBool,
}

impl opentelemetry_sdk::trace::SpanExporter for Telling {
    async fn export(&self, batch: Vec<SpanData>) -> OTelSdkResult {
        let spans = batch.len();
        let exported = self.exporter.export(batch).await;
        match &exported {
            Err(error) => {
                if !self.told.swap(true, Ordering::Relaxed) {
                    tracing::warn!(spans, %error, "spans are lost: the collector did not take them");
                }
            }
            Ok(()) => {
                if self.told.swap(false, Ordering::Relaxed) {
                    tracing::info!("the collector takes spans again");
                }
            }
        }
        exported
    }

    fn shutdown_with_timeout(&self, timeout: Duration) -> OTelSdkResult {
        opentelemetry_sdk::trace::SpanExporter::shutdown_with_timeout(&self.exporter, timeout)
    }

    fn set_resource(&mut self, resource: &Resource) {
        opentelemetry_sdk::trace::SpanExporter::set_resource(&mut self.exporter, resource);
    }
}
