use crate::listen::{ListenError, Listener, serve};
use crate::state::AppState;

/// Takes an address, tells `ready` what to open in the browser, and answers until the program is
/// interrupted. For callers without an async runtime of their own.
///
/// # Errors
/// [`ListenError`] when the address cannot be taken or the system ends the server.
pub fn run(address: &str, state: AppState, ready: impl FnOnce(&str)) -> Result<(), ListenError> {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .map_err(|cause| ListenError::Serve { cause })?;
    runtime.block_on(async {
        let listener = Listener::bind(address).await?;
        ready(&listener.url());
        let stop = async {
            // without a signal handler the server simply runs until it is killed
            if tokio::signal::ctrl_c().await.is_err() {
                std::future::pending::<()>().await;
            }
        };
        serve(listener, state, stop).await
    })
}
