//! Editor tests without a display.
