// What the task library guarantees, told to the thread sanitizer: it does not see into that
// library, which is built without it, and would report whatever is handed from thread to thread
// there.
#pragma once

#if defined(__SANITIZE_THREAD__)
extern "C" void __tsan_acquire(void*);
extern "C" void __tsan_release(void*);
#endif

namespace leastwall {

/// Stands around a parallel call: what came before it happens before every share of its work, and
/// every share before what follows. Does nothing in other builds.
class HandOver {
 public:
  /// Stands around one share of the work, on its thread.
  class Share {
   public:
#if defined(__SANITIZE_THREAD__)
    explicit Share(HandOver& of) : of_(of) {
      __tsan_acquire(&of_.begun_);
    }
    ~Share() {
      __tsan_release(&of_.ended_);
    }
#else
    explicit Share(HandOver&) {}
#endif
    Share(const Share&) = delete;
    Share& operator=(const Share&) = delete;

   private:
#if defined(__SANITIZE_THREAD__)
    HandOver& of_;
#endif
  };

#if defined(__SANITIZE_THREAD__)
  HandOver() {
    __tsan_release(&begun_);
  }
  ~HandOver() {
    __tsan_acquire(&ended_);
  }
#else
  HandOver() = default;
#endif
  HandOver(const HandOver&) = delete;
  HandOver& operator=(const HandOver&) = delete;

#if defined(__SANITIZE_THREAD__)
 private:
  char begun_ = 0, ended_ = 0;
#endif
};

} // namespace leastwall
