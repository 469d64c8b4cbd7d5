//! Editor tests without a display: the whole workbench driven by pointer, keys and names.

mod cpu_renderer;
mod documents;
mod dragging;
mod from_nothing;
mod harness;
mod keyboard;
mod mechanics;
mod pictures;
mod plans;
mod window;
