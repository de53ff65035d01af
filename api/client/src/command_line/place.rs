//! Where to ask.

use crate::ask::Client;
use crate::over_http::Server;
use clap::Args;
use std::error::Error;
use sumpwright_openapi::problem::ProblemKind;

/// Where to ask.
#[derive(Debug, Args)]
pub(super) struct Where {
    /// Address of the server. Default: none; the answers are calculated on this machine
    /// and nothing is sent anywhere.
    #[arg(long, env = "SUMPWRIGHT_SERVER", value_name = "ADDRESS")]
    pub(super) server: Option<String>,
    /// Key, if the server needs one.
    #[arg(long, env = "SUMPWRIGHT_KEY", hide_env_values = true)]
    key: Option<String>,
    /// Number of times to ask again when the server is too busy or does not answer.
    #[arg(long, value_name = "NUMBER", default_value_t = 6)]
    retries: u32,
}

impl Where {
    pub(super) fn client(&self) -> Result<Client, Box<dyn Error>> {
        Ok(match &self.server {
            Some(server) => {
                let server = Server::new(server, self.key.clone(), self.retries)?;
                Client::of(server.saying(|text| eprintln!("{text}")))
            }
            None => Client::in_process(),
        })
    }

    /// An error in the words of this program: a key that is missing is a flag here.
    pub(super) fn explain(&self, error: crate::Error) -> Box<dyn Error> {
        match &error {
            crate::Error::Problem(problem)
                if self.key.is_none() && problem.r#type == ProblemKind::NoKey.address() =>
            {
                "The service needs a key. Say --key KEY, or set SUMPWRIGHT_KEY.".into()
            }
            _ => error.into(),
        }
    }
}
