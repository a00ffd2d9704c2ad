//! The server on a socket of its own.

use server::Listener;

#[tokio::test]
async fn it_listens_on_this_machine_alone_and_says_where() {
    let listener = Listener::bind(Listener::DEFAULT).await.unwrap();
    assert!(listener.address().ip().is_loopback());
    assert_ne!(listener.address().port(), 0);
    assert_eq!(listener.url(), format!("http://127.0.0.1:{}/", listener.address().port()));
}

#[tokio::test]
async fn an_address_that_is_taken_is_named() {
    let first = Listener::bind(Listener::DEFAULT).await.unwrap();
    let address = first.address().to_string();
    let error = Listener::bind(&address).await.unwrap_err();
    assert!(error.to_string().starts_with(&format!("cannot listen on `{address}`: ")), "{error}");
}
