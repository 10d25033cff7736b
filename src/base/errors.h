// The exceptions of leastwall. One family, split by cause; src/app/ maps each kind to an exit
// status once (see exit_status.h there). `what()` is one complete line for the user: which file or
// option, what is wrong, what to do.
#pragma once

#include <stdexcept>
#include <string>

namespace leastwall {

/// Base of every error we raise on purpose.
class Error : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// The input or the call is wrong: a broken mesh, an unknown key, a contradiction. Exit status 2.
class InputError : public Error {
 public:
  using Error::Error;
};

/// The run could not finish: memory, disk, a time limit. Exit status 3.
class RunError : public Error {
 public:
  using Error::Error;
};

/// The user asked to stop. Exit status 3.
class Cancelled : public RunError {
 public:
  Cancelled() : RunError("cancelled: nothing was written") {}
};

} // namespace leastwall
