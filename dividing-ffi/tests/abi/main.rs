//! The interface as a whole, read from the committed header, so that no export
//! is left out: the list of symbols,
//! calls with each argument spoiled in turn, the reference page and the comments.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a failing unwrap is a failing test"
)]
#![allow(unreachable_pub, reason = "the modules of one test")]

mod built;
mod calls;
mod cpp;
mod header;
mod reference;
mod samples;
mod symbols;
