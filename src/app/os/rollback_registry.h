// What must not be left behind when the program ends in the middle: temporary files, folders made
// for them, and files already put in their places by a run that did not finish.
#pragma once

namespace leastwall {

/// A remembered file or folder. Number of a slot; -1 where none was free (the file is then only
/// removed in the ordinary way).
using UnfinishedSlot = int;

/// A temporary file, to be unlinked.
UnfinishedSlot remember_temporary(const char* temporary) noexcept;
/// A folder that we made, to be removed when it is empty.
UnfinishedSlot remember_folder(const char* folder) noexcept;
/// The temporary file now holds what stood at `target`, and `target` holds ours: to be exchanged
/// back. Without an old file (`exchanged` false) `target` is to be unlinked.
void remember_placed(UnfinishedSlot slot, const char* target, bool exchanged) noexcept;
void forget_unfinished(UnfinishedSlot slot) noexcept;

/// Puts everything remembered back as it was. Only plain system calls: safe in a signal handler.
void undo_unfinished() noexcept;

} // namespace leastwall
