//! The window.
pub mod canvas;
