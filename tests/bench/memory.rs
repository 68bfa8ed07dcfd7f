//! The most memory that this process has held.

use std::fs;

/// Megabytes (10^6 bytes); `None` where the system does not say: only Linux does, in `VmHWM`.
pub fn peak() -> Option<f64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    let kibibytes: f64 = line.trim().strip_suffix("kB")?.trim().parse().ok()?;
    Some(kibibytes * 1_024.0 / 1e6)
}
