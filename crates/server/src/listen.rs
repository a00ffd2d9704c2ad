use crate::router;
use crate::state::AppState;
use std::io;
use std::net::SocketAddr;

/// Why the server could not be reached.
#[derive(Debug, thiserror::Error)]
pub enum ListenError {
    /// The address could not be taken.
    #[error("cannot listen on `{address}`: {cause}")]
    Bind {
        /// Address asked for.
        address: String,
        /// What the system said.
        cause: io::Error,
    },
    /// The server stopped by itself.
    #[error("the server stopped: {cause}")]
    Serve {
        /// What the system said.
        cause: io::Error,
    },
}

/// A server that holds its address and does not answer yet.
#[derive(Debug)]
pub struct Listener {
    socket: tokio::net::TcpListener,
    address: SocketAddr,
}

impl Listener {
    /// Where nobody but this machine reaches it; port 0 lets the system choose.
    pub const DEFAULT: &'static str = "127.0.0.1:0";

    /// Takes an address such as [`Listener::DEFAULT`].
    ///
    /// # Errors
    /// [`ListenError::Bind`] when another program has it or it is not ours to take.
    pub async fn bind(address: &str) -> Result<Self, ListenError> {
        let wrap = |cause| ListenError::Bind { address: address.to_owned(), cause };
        let socket = tokio::net::TcpListener::bind(address).await.map_err(wrap)?;
        let bound = socket.local_addr().map_err(wrap)?;
        Ok(Self { socket, address: bound })
    }

    /// The address taken, with its port.
    pub fn address(&self) -> SocketAddr {
        self.address
    }

    /// What to open in the browser.
    pub fn url(&self) -> String {
        format!("http://{}/", self.address)
    }
}

/// Answers until `stop` comes true.
///
/// # Errors
/// [`ListenError::Serve`] when the system ends it.
pub async fn serve(
    listener: Listener,
    state: AppState,
    stop: impl Future<Output = ()> + Send + 'static,
) -> Result<(), ListenError> {
    let state = state.with_host(&host_of(listener.address));
    axum::serve(listener.socket, router(state))
        .with_graceful_shutdown(stop)
        .await
        .map_err(|cause| ListenError::Serve { cause })
}

/// The address as it stands in a `Host` header.
fn host_of(address: SocketAddr) -> String {
    match address {
        SocketAddr::V4(address) => address.ip().to_string(),
        SocketAddr::V6(address) => format!("[{}]", address.ip()),
    }
}
