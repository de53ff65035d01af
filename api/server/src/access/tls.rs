//! TLS with a certificate from files, read again when they change.

use rustls::ServerConfig;
use rustls::crypto::ring;
use rustls::pki_types::pem::PemObject;
use rustls::pki_types::{CertificateDer, PrivateKeyDer};
use rustls::server::{ClientHello, ResolvesServerCert};
use rustls::sign::CertifiedKey;
use std::path::{Path, PathBuf};
use std::sync::{Arc, PoisonError, RwLock};
use std::time::{Duration, SystemTime, UNIX_EPOCH};
use x509_parser::prelude::{FromDer, X509Certificate};

/// The log warns of a certificate that expires sooner than this.
const SOON: Duration = Duration::from_hours(30 * 24);

/// The certificate in use.
#[derive(Debug)]
pub struct Tls {
    chain: PathBuf,
    key: PathBuf,
    current: RwLock<Arc<Certificate>>,
}

#[derive(Debug)]
struct Certificate {
    certified: Arc<CertifiedKey>,
    not_after: i64,
}

impl Tls {
    /// Reads a chain and its key; an error is a sentence for the operator.
    pub fn of(chain: &Path, key: &Path) -> Result<Self, String> {
        let current = RwLock::new(Arc::new(read(chain, key)?));
        Ok(Self { chain: chain.to_owned(), key: key.to_owned(), current })
    }

    /// Reads both again. If there is an error, the old ones stay in use.
    pub fn reload(&self) -> Result<(), String> {
        let read = Arc::new(read(&self.chain, &self.key)?);
        *self.current.write().unwrap_or_else(PoisonError::into_inner) = read;
        Ok(())
    }

    /// The files of the chain and the key.
    #[must_use]
    pub fn files(&self) -> [&PathBuf; 2] {
        [&self.chain, &self.key]
    }

    /// When the certificate expires, in Unix time.
    #[must_use]
    pub fn not_after(&self) -> i64 {
        self.certificate().not_after
    }

    /// A sentence where the certificate expires soon.
    #[must_use]
    pub fn expires_soon(&self) -> Option<String> {
        let now = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |now| now.as_secs());
        let left = self.not_after().saturating_sub_unsigned(now);
        (left < i64::try_from(SOON.as_secs()).unwrap_or(i64::MAX)).then(|| {
            format!(
                "the certificate in {} expires in {} days.",
                self.chain.display(),
                left / 86_400
            )
        })
    }

    fn certificate(&self) -> Arc<Certificate> {
        Arc::clone(&self.current.read().unwrap_or_else(PoisonError::into_inner))
    }

    /// The TLS settings with this certificate.
    pub fn server(self: &Arc<Self>) -> Result<ServerConfig, String> {
        let provider = Arc::new(ring::default_provider());
        let builder = ServerConfig::builder_with_provider(provider)
            .with_safe_default_protocol_versions()
            .map_err(|error| error.to_string())?;
        Ok(builder.with_no_client_auth().with_cert_resolver(Arc::<Self>::clone(self)))
    }
}

impl ResolvesServerCert for Tls {
    fn resolve(&self, _: ClientHello<'_>) -> Option<Arc<CertifiedKey>> {
        Some(Arc::clone(&self.certificate().certified))
    }
}

fn read(chain: &Path, key: &Path) -> Result<Certificate, String> {
    let certificates = CertificateDer::pem_file_iter(chain)
        .and_then(Iterator::collect::<Result<Vec<_>, _>>)
        .map_err(|error| format!("{} cannot be read as PEM: {error}", chain.display()))?;
    let Some(first) = certificates.first() else {
        return Err(format!("{} contains no certificate.", chain.display()));
    };
    let (_, parsed) = X509Certificate::from_der(first)
        .map_err(|error| format!("{} is not a valid certificate: {error}", chain.display()))?;
    let validity = parsed.validity();
    let now = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
    let now = i64::try_from(now.as_secs()).unwrap_or(i64::MAX);
    let not_after = validity.not_after.timestamp();
    if not_after < now {
        return Err(format!(
            "The certificate in {} expired on {}. Callers would refuse it. Install a new one.",
            chain.display(),
            validity.not_after
        ));
    }
    if validity.not_before.timestamp() > now {
        return Err(format!(
            "The certificate in {} is not valid before {}. Check this machine's clock.",
            chain.display(),
            validity.not_before
        ));
    }
    if not_after.saturating_sub_unsigned(SOON.as_secs()) < now {
        tracing::warn!(file = %chain.display(), expires = %validity.not_after,
            "the certificate expires soon");
    }
    let private = PrivateKeyDer::from_pem_file(key)
        .map_err(|error| format!("{} cannot be read as a private key: {error}", key.display()))?;
    let certified = CertifiedKey::from_der(certificates, private, &ring::default_provider())
        .map_err(|error| {
            let (chain, key) = (chain.display(), key.display());
            format!("the key in {key} does not belong to the certificate in {chain}: {error}")
        })?;
    Ok(Certificate { certified: Arc::new(certified), not_after })
}
