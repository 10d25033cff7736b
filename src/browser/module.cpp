// The functions that the page calls. Text is UTF-8 ended by a zero; what is returned stays until
// the next check.
#include "browser/door.h"
#include "browser/first_job.h"

#include <cstddef>
#include <emscripten.h>
#include <string>

namespace {

leastwall::Answer answer;
std::string job;

} // namespace

extern "C" {

/// answer_check(); returns the status.
EMSCRIPTEN_KEEPALIVE int leastwall_check(const char* request) {
  answer = {};
  answer = leastwall::answer_check(request);
  return answer.status;
}

/// answer_change(); returns the status.
EMSCRIPTEN_KEEPALIVE int leastwall_change(const char* request) {
  answer = {};
  answer = leastwall::answer_change(request);
  return answer.status;
}

/// answer_form(); returns the status.
EMSCRIPTEN_KEEPALIVE int leastwall_form(const char* request) {
  answer = {};
  answer = leastwall::answer_form(request);
  return answer.status;
}

EMSCRIPTEN_KEEPALIVE const char* leastwall_message() {
  return answer.message.c_str();
}

EMSCRIPTEN_KEEPALIVE const char* leastwall_summary() {
  return answer.summary.c_str();
}

EMSCRIPTEN_KEEPALIVE int leastwall_files() {
  return static_cast<int>(answer.files.size());
}
EMSCRIPTEN_KEEPALIVE const char* leastwall_name(int i) {
  return answer.files[static_cast<std::size_t>(i)].name.c_str();
}
EMSCRIPTEN_KEEPALIVE const char* leastwall_bytes(int i) {
  return answer.files[static_cast<std::size_t>(i)].bytes.data();
}
EMSCRIPTEN_KEEPALIVE std::size_t leastwall_size(int i) {
  return answer.files[static_cast<std::size_t>(i)].bytes.size();
}

/// job_of_answers() and write_demo(): the text of a job file.
EMSCRIPTEN_KEEPALIVE const char* leastwall_first_job(const char* answers) {
  job = leastwall::job_of_answers(answers);
  return job.c_str();
}
EMSCRIPTEN_KEEPALIVE const char* leastwall_demo() {
  job = leastwall::write_demo();
  return job.c_str();
}
}
