use crate::desk::{Desk, DeskError};
use crate::error::ApiError;
use crate::shelf::{Shelf, Shelved};
use std::fmt;
use std::sync::Arc;

/// Where the server writes what only its owner may read.
pub type Log = Arc<dyn Fn(&str) + Send + Sync>;

/// What every handler works with.
#[derive(Clone)]
pub struct AppState {
    desk: Arc<dyn Desk>,
    log: Log,
    hosts: Arc<[String]>,
    shelf: Option<Arc<Shelved>>,
}

impl fmt::Debug for AppState {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("AppState").field("hosts", &self.hosts).finish_non_exhaustive()
    }
}

impl AppState {
    /// A server that answers under `localhost`, `127.0.0.1` and `[::1]`.
    pub fn new(desk: impl Desk, log: Log) -> Self {
        Self::of(Arc::new(desk), log)
    }

    /// As [`AppState::new`], with a desk that others hold too.
    pub fn of(desk: Arc<dyn Desk>, log: Log) -> Self {
        Self { desk, log, hosts: Arc::from([]), shelf: None }
    }

    /// Also lists the books of a shelf, answers for each below `/books/FILE`, and begins new ones.
    pub fn with_shelf(mut self, shelf: impl Shelf) -> Self {
        self.shelf = Some(Arc::new(Shelved::new(shelf)));
        self
    }

    /// The same server at another desk.
    pub(crate) fn at(&self, desk: Arc<dyn Desk>) -> Self {
        Self { desk, ..self.clone() }
    }

    /// The books beside the one at the root.
    pub(crate) fn shelf(&self) -> Option<Arc<Shelved>> {
        self.shelf.clone()
    }

    /// Also answers under this name or address, without port; what `--listen` named.
    pub fn with_host(mut self, host: &str) -> Self {
        let mut hosts = self.hosts.to_vec();
        hosts.push(host.to_ascii_lowercase());
        self.hosts = hosts.into();
        self
    }

    /// Names beyond those of this machine.
    pub(crate) fn hosts(&self) -> &[String] {
        &self.hosts
    }

    /// Puts a question to the desk on a thread that may block.
    pub(crate) async fn ask<T: Send + 'static>(
        &self,
        question: impl FnOnce(&dyn Desk) -> Result<T, DeskError> + Send + 'static,
    ) -> Result<T, ApiError> {
        let desk = Arc::clone(&self.desk);
        self.away(move || question(desk.as_ref())).await
    }

    /// Does something on a thread that may block.
    pub(crate) async fn away<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> Result<T, DeskError> + Send + 'static,
    ) -> Result<T, ApiError> {
        let answer = tokio::task::spawn_blocking(work)
            .await
            .unwrap_or_else(|stop| Err(DeskError::internal(format!("the desk stopped: {stop}"))));
        answer.map_err(|error| ApiError::new(error, |line| (self.log)(line)))
    }
}
