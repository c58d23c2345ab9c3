//! Starting: the book is opened, the address is bound, requests are answered until the program is told to stop.

use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::sync::Arc;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::middleware;
use tokio::net::TcpListener;

use crate::api::{self, Bench};
use crate::desk::Desk;
use crate::http::files;
use crate::http::guard::{self, Guard, Key};

/// The most that a request may carry, bytes.
const LARGEST: usize = 1 << 20;

/// What is opened and where.
#[derive(Clone, Debug)]
pub struct Options {
    /// The file of the book; begun where it is not there.
    pub book: PathBuf,
    /// The port; any free one where it is 0.
    pub port: u16,
}

/// Why the workbench cannot be opened.
#[derive(Debug, thiserror::Error)]
pub enum Fault {
    /// The book cannot be opened.
    #[error(transparent)]
    Book(#[from] book::Fault),
    /// The port cannot be listened on.
    #[error("The port {port} cannot be listened on: {why}.")]
    Port {
        /// The port.
        port: u16,
        /// What the system says.
        why: String,
    },
    /// The system gives no random numbers, or no room to work.
    #[error("The workbench cannot be started: {why}.")]
    System {
        /// What the system says.
        why: String,
    },
}

impl Fault {
    /// The next step, in a sentence.
    pub fn cure(&self) -> String {
        match self {
            Self::Book(fault) => fault.cure().to_owned(),
            Self::Port { .. } => {
                "Leave --port away to take any free one, or name another.".to_owned()
            }
            Self::System { .. } => "Close other programs and try again.".to_owned(),
        }
    }
}

/// A workbench that listens and has not answered yet.
pub struct Workbench {
    listener: std::net::TcpListener,
    port: u16,
    key: Key,
    bench: Arc<Bench>,
}

impl Workbench {
    /// Opens the book and binds the address.
    pub fn open(options: &Options) -> Result<Self, Fault> {
        let desk = Desk::open(&options.book)?;
        let system = |why: &str| Fault::System {
            why: why.to_owned(),
        };
        let key = Key::new().ok_or_else(|| system("it gives no random numbers"))?;
        let address = SocketAddr::from((Ipv4Addr::LOCALHOST, options.port));
        let not_bound = |fault: std::io::Error| Fault::Port {
            port: options.port,
            why: plain(&fault),
        };
        let listener = std::net::TcpListener::bind(address).map_err(not_bound)?;
        listener.set_nonblocking(true).map_err(not_bound)?;
        let port = listener.local_addr().map_err(not_bound)?.port();
        let bench = Arc::new(Bench::new(desk));
        Ok(Self {
            listener,
            port,
            key,
            bench,
        })
    }

    /// The address that opens the page, with the key of this start.
    pub fn address(&self) -> String {
        format!("http://127.0.0.1:{}/?key={}", self.port, self.key.as_str())
    }

    /// The port that is listened on.
    pub const fn port(&self) -> u16 {
        self.port
    }

    /// The key of this start, which every request behind `/api/` must carry.
    pub fn key(&self) -> &str {
        self.key.as_str()
    }

    /// Everything that answers, without the address: for tests and benches.
    pub fn router(&self) -> Router {
        let guard = Guard {
            port: self.port,
            key: self.key.clone(),
        };
        api::routes()
            .with_state(Arc::clone(&self.bench))
            .fallback(axum::routing::get(files::file))
            .layer(DefaultBodyLimit::max(LARGEST))
            .layer(middleware::from_fn_with_state(guard, guard::guard))
    }

    /// Answers until the program is interrupted.
    pub fn run(self) -> Result<(), Fault> {
        let system = |fault: std::io::Error| Fault::System { why: plain(&fault) };
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .worker_threads(2)
            // A request waits for the desk on a thread of its own; more would only wait.
            .max_blocking_threads(16)
            .enable_all()
            .build()
            .map_err(system)?;
        let router = self.router();
        let bench = Arc::clone(&self.bench);
        let answered = runtime.block_on(async move {
            let listener = TcpListener::from_std(self.listener)?;
            axum::serve(listener, router)
                .with_graceful_shutdown(interrupted())
                .await
        });
        bench.stop();
        // Whoever still waits for an answer has closed the page or the program.
        runtime.shutdown_timeout(std::time::Duration::from_secs(2));
        answered.map_err(system)
    }
}

/// Comes back when the program is told to stop.
async fn interrupted() {
    if tokio::signal::ctrl_c().await.is_err() {
        // Nobody can tell it to stop; it runs until it is ended.
        std::future::pending::<()>().await;
    }
}

/// What the system says, without its number.
fn plain(fault: &std::io::Error) -> String {
    let words = fault.to_string();
    let end = words.find(" (os error").unwrap_or(words.len());
    words[..end].to_lowercase()
}
