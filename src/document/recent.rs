//! The files opened or saved last, in a list of their own.

use std::path::{Path, PathBuf};

use super::WriteError;
use super::file::{load, replace};

/// Most files in the list.
const MOST_RECENT: usize = 12;
/// Largest list that is read, bytes.
const LARGEST_LIST: u64 = 256 * 1024;

/// The files in the list kept at `list`, last one first, as far as they are
/// still there.
///
/// A list that is missing or broken is an empty one: it is no loss.
pub fn recent_files(list: &Path) -> Vec<PathBuf> {
    let mut files = listed(list);
    files.retain(|file| file.is_file());
    files
}

/// Puts `file` at the top of the list kept at `list`.
///
/// `file` should be a whole path from the root. The list is read again first,
/// for another window may have added to it.
///
/// # Errors
///
/// When the list cannot be written; the older one is then still there.
pub fn remember_file(list: &Path, file: &Path) -> Result<(), WriteError> {
    let mut files = listed(list);
    files.retain(|other| other != file);
    files.insert(0, file.to_owned());
    files.truncate(MOST_RECENT);
    // A path that is not Unicode cannot be written and is left out.
    let names: Vec<_> = files.iter().filter_map(|file| file.to_str()).collect();
    let lines = ron::ser::PrettyConfig::new().new_line("\n");
    let text = ron::ser::to_string_pretty(&names, lines).expect("a list of text");
    replace(list, text.as_bytes())
}

fn listed(list: &Path) -> Vec<PathBuf> {
    let bytes = load(list, LARGEST_LIST).unwrap_or_default();
    ron::de::from_bytes(&bytes).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_file_comes_first_and_only_once() {
        let folder = tempfile::tempdir().unwrap();
        let list = folder.path().join("recent.ron");
        let file = |name: &str| folder.path().join(name);
        for name in ["a", "b", "a", "gone"] {
            if name != "gone" {
                replace(&file(name), b"").unwrap();
            }
            remember_file(&list, &file(name)).unwrap();
        }
        assert_eq!(recent_files(&list), [file("a"), file("b")]);
    }

    #[test]
    fn the_list_ends_at_twelve() {
        let folder = tempfile::tempdir().unwrap();
        let list = folder.path().join("recent.ron");
        for i in 0..20 {
            let file = folder.path().join(i.to_string());
            replace(&file, b"").unwrap();
            remember_file(&list, &file).unwrap();
        }
        let files = recent_files(&list);
        assert_eq!(files.len(), 12);
        assert_eq!(files[0], folder.path().join("19"));
    }

    #[test]
    fn a_broken_list_is_an_empty_one() {
        let folder = tempfile::tempdir().unwrap();
        let list = folder.path().join("recent.ron");
        replace(&list, b"[\"/a\", oh").unwrap();
        assert!(recent_files(&list).is_empty());
    }
}
