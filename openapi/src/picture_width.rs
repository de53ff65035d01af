//! How wide pictures may be asked for, in CSS pixels.

/// The narrowest.
pub const LEAST: u16 = 280;
/// The widest.
pub const MOST: u16 = 2000;
/// Where nobody says.
pub const DEFAULT: u16 = 720;
