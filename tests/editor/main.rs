//! Editor tests without a display: the whole workbench driven by pointer, keys and names.

mod cpu_renderer;
mod harness;
mod plans;
mod pictures;
