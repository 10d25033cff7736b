// The files that a run may have open at one time.
#pragma once

namespace leastwall {

/// Throws RunError where the system would give this process fewer handles than a run takes at most:
/// without them a picture would lack its letters before any output lacked its file.
void require_open_files();

} // namespace leastwall
