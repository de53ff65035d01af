//! Spans for a collector, by OTLP.

use crate::trace::Trace;
use opentelemetry::trace::{
    Span, SpanContext, SpanId, SpanKind, Status, TraceContextExt, TraceFlags, TraceId, TraceState,
    Tracer, TracerProvider,
};
use opentelemetry::{Context, KeyValue};
use opentelemetry_otlp::{Protocol, SpanExporter, WithExportConfig};
use opentelemetry_sdk::Resource;
use opentelemetry_sdk::trace::{SdkTracer, SdkTracerProvider, Span as SdkSpan};
use sumpwright_engine::VERSION;

/// Where spans go.
pub struct Spans {
    provider: SdkTracerProvider,
    tracer: SdkTracer,
}

impl Spans {
    /// Sends spans to `endpoint`, in batches and from a thread of their own.
    pub fn to(endpoint: &str) -> Result<Self, String> {
        // The exporter's client wants to know how to speak TLS, though it speaks none
        // here. Whoever was first in this process has decided.
        let _ = rustls::crypto::ring::default_provider().install_default();
        let exporter = SpanExporter::builder()
            .with_http()
            .with_endpoint(endpoint)
            .with_protocol(Protocol::HttpBinary)
            .build()
            .map_err(|error| format!("otlp_endpoint {endpoint}: {error}"))?;
        let resource = Resource::builder()
            .with_service_name("sumpwright")
            .with_attribute(KeyValue::new("service.version", VERSION))
            .build();
        let provider = SdkTracerProvider::builder()
            .with_batch_exporter(exporter)
            .with_resource(resource)
            .build();
        let tracer = provider.tracer("sumpwright");
        Ok(Self { provider, tracer })
    }

    /// Begins the span of a request, below the caller's where there is one.
    #[must_use]
    pub fn begin(&self, name: String, caller: Option<Trace>) -> SdkSpan {
        let builder = self.tracer.span_builder(name).with_kind(SpanKind::Server);
        let parent = caller.map_or_else(Context::new, |caller| {
            Context::new().with_remote_span_context(SpanContext::new(
                TraceId::from(caller.trace),
                SpanId::from(caller.span),
                TraceFlags::new(caller.flags),
                true,
                TraceState::default(),
            ))
        });
        self.tracer.build_with_context(builder, &parent)
    }

    /// Sends what has not been sent.
    pub fn end(&self) {
        if let Err(error) = self.provider.shutdown() {
            tracing::warn!(%error, "spans were not sent");
        }
    }
}

/// The place of a span in its trace.
#[must_use]
pub fn place(span: &SdkSpan) -> Trace {
    let context = span.span_context();
    Trace {
        trace: u128::from_be_bytes(context.trace_id().to_bytes()),
        span: u64::from_be_bytes(context.span_id().to_bytes()),
        flags: context.trace_flags().to_u8(),
    }
}

/// Ends the span of a request with what became of it, in the words of the
/// semantic conventions for HTTP.
pub fn end(mut span: SdkSpan, method: &str, route: &str, status: u16, outcome: &'static str) {
    span.set_attribute(KeyValue::new("http.request.method", method.to_owned()));
    span.set_attribute(KeyValue::new("url.path", route.to_owned()));
    span.set_attribute(KeyValue::new("http.response.status_code", i64::from(status)));
    span.set_attribute(KeyValue::new("sumpwright.outcome", outcome));
    if status >= 500 {
        span.set_status(Status::error(outcome));
    }
    span.end();
}
