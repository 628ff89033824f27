//! Arrays of the caller: read as slices, written as outputs.

use crate::error::{Failure, Outcome};
use crate::pointer::check;
use crate::status::Status;

/// Most entries of an array that is looked at.
pub(crate) const LONGEST_ARRAY: usize = 100_000_000;

fn check_array<T>(pointer: *const T, length: usize, name: &str) -> Outcome {
    if length > LONGEST_ARRAY {
        return Err(Failure::new(
            Status::OutOfRange,
            name,
            format!(
                "an array of {length} entries is out of range; accepted: at most {LONGEST_ARRAY}"
            ),
        ));
    }
    if length > 0 {
        check(pointer, name)?;
    }
    Ok(())
}

/// An array to read; with no entries its pointer is not looked at.
///
/// # Safety
/// A pointer that is aligned and not null points to `length` values that nobody
/// changes during `'a`.
pub(crate) unsafe fn slice<'a, T>(
    pointer: *const T,
    length: usize,
    name: &str,
) -> Outcome<&'a [T]> {
    check_array(pointer, length, name)?;
    if length == 0 {
        return Ok(&[]);
    }
    // SAFETY: checked above, and by the caller's contract; the limit of entries
    // keeps every type here far below isize::MAX bytes.
    Ok(unsafe { std::slice::from_raw_parts(pointer, length) })
}

/// An array of the caller that takes a column of outputs.
pub(crate) struct OutArray<T> {
    place: *mut T,
    capacity: usize,
    name: &'static str,
}

impl<T: Copy> OutArray<T> {
    /// Checks the array.
    ///
    /// # Safety
    /// A pointer that is aligned and not null may be written to, `capacity`
    /// values far, until the export returns.
    pub(crate) unsafe fn new(place: *mut T, capacity: usize, name: &'static str) -> Outcome<Self> {
        check_array(place, capacity, name)?;
        Ok(Self {
            place,
            capacity,
            name,
        })
    }

    /// As [`OutArray::new`], where NULL leaves the column out.
    ///
    /// # Safety
    /// As [`OutArray::new`].
    pub(crate) unsafe fn unless_null(
        place: *mut T,
        capacity: usize,
        name: &'static str,
    ) -> Outcome<Option<Self>> {
        if place.is_null() {
            return Ok(None);
        }
        // SAFETY: the caller's contract.
        unsafe { Self::new(place, capacity, name) }.map(Some)
    }

    /// Refuses an array without room for so many values.
    pub(crate) fn check_room(&self, count: usize) -> Outcome {
        check_capacity(self.capacity, count, self.name)
    }

    /// Writes the values, no further than there is room: the last step of a
    /// call, after [`OutArray::check_room`] of all its arrays.
    pub(crate) fn write(self, values: impl IntoIterator<Item = T>) {
        for (index, value) in values.into_iter().take(self.capacity).enumerate() {
            // SAFETY: within the capacity that the caller of `new` vouched for.
            unsafe { self.place.add(index).write(value) }
        }
    }

    /// Checks the room and writes one column.
    pub(crate) fn give(self, values: &[T]) -> Outcome {
        self.check_room(values.len())?;
        self.write(values.iter().copied());
        Ok(())
    }
}

/// Refuses room for fewer values than there are.
pub(crate) fn check_capacity(capacity: usize, count: usize, name: &str) -> Outcome {
    if count <= capacity {
        return Ok(());
    }
    Err(Failure::new(
        Status::BufferTooSmall,
        name,
        format!("there is room for {capacity} values; accepted: room for {count}"),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn arrays_are_checked_before_they_are_touched() {
        let mut room = [7_u32; 3];
        // SAFETY: an array with its length; NULL and absurd lengths are refused
        // before anything is read or written.
        unsafe {
            assert!(slice(std::ptr::null::<f64>(), 1, "a").is_err());
            assert!(slice(room.as_ptr(), LONGEST_ARRAY + 1, "a").is_err());
            assert_eq!(slice(std::ptr::null::<f64>(), 0, "a"), Ok(&[][..]));
            assert!(
                OutArray::<u32>::unless_null(std::ptr::null_mut(), 3, "b")
                    .unwrap()
                    .is_none()
            );
            let out = OutArray::new(room.as_mut_ptr(), 2, "b").unwrap();
            assert!(out.give(&[1, 2, 3]).is_err());
            assert_eq!(room, [7, 7, 7]);
            OutArray::new(room.as_mut_ptr(), 2, "b")
                .unwrap()
                .give(&[1, 2])
                .unwrap();
        }
        assert_eq!(room, [1, 2, 7]);
    }
}
