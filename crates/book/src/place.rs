//! Where a person's book lies when no other place is named.

use std::path::PathBuf;

use etcetera::base_strategy::{BaseStrategy as _, choose_native_strategy};

/// The book's place by the convention of the platform; `None` where the system tells of no home folder.
///
/// - Linux and others: `$XDG_DATA_HOME/notchbook/book.notchbook`, mostly `~/.local/share/…` (source: XDG Base Directory
///   Specification, `$XDG_DATA_HOME`; a relative path there is passed over, as it says);
/// - macOS: `~/Library/Application Support/notchbook/…` (source: Apple, *File System Programming Guide*, "Where You
///   Should Put Your App's Files");
/// - Windows: `%APPDATA%\notchbook\…` (source: Microsoft, *Known Folders*, `FOLDERID_RoamingAppData`).
pub fn default_place() -> Option<PathBuf> {
    let folders = choose_native_strategy().ok()?;
    Some(folders.data_dir().join("notchbook").join("book.notchbook"))
}
