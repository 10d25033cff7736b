# Writes the fixed text of the page into a C++ source file; run with cmake -P.
# HTML, CSS, THREE: one file each. SCRIPTS: files separated by |. OUTPUT: the source file.
# Raw strings are cut in pieces: a compiler may take no more than 64 KiB in one.
function(append_text function file_list)
  execute_process(COMMAND cat ${file_list} COMMAND sed -E "${ARGN}"
                  OUTPUT_VARIABLE text RESULTS_VARIABLE results)
  if(NOT "${results}" STREQUAL "0;0")
    message(FATAL_ERROR "cat or sed failed: ${results}")
  endif()
  string(LENGTH "${text}" length)
  set(body "")
  set(at 0)
  while(at LESS length)
    string(SUBSTRING "${text}" ${at} 16000 piece)
    string(APPEND body "R\"leastwall(${piece})leastwall\"\n")
    math(EXPR at "${at} + 16000")
  endwhile()
  file(APPEND "${OUTPUT}" "std::string_view ${function}() {\n  static constexpr char kText[] =\n${body};\n"
       "  return {kText, sizeof kText - 1};\n}\n\n")
endfunction()

string(REPLACE "|" ";" script_list "${SCRIPTS}")
file(WRITE "${OUTPUT}" "// Made by cmake/EmbedPage.cmake.\n#include \"report/page/page_assets.h\"\n\nnamespace leastwall {\n\n")
append_text(page_template "${HTML}")
append_text(page_style "${CSS}")
# Without blanks before lines and without comments that begin or end a line: no text in the scripts has
# them, and no code stands behind one that begins a line.
append_text(page_script "${script_list}" "s/^[ \t]+//; /^\\/\\*.*\\*\\/$/d; /^\\/\\*/,/\\*\\/$/d; s@ *\\/\\*[^*\"']*\\*\\/$@@")
append_text(page_three "${THREE}")
file(APPEND "${OUTPUT}" "} // namespace leastwall\n")
