# Puts leastwall.html together: one file with the module inside; run with cmake -P.
# HTML, CSS: one file each. SCRIPTS, WORKER: files separated by |. MODULE, OUTPUT: files. VERSION.
function(packed variable)
  execute_process(COMMAND cat ${ARGN} OUTPUT_FILE ${OUTPUT}.part RESULTS_VARIABLE joined)
  execute_process(COMMAND zopfli -c --i5 ${OUTPUT}.part
                  COMMAND node ${CMAKE_CURRENT_LIST_DIR}/base85.mjs
                  OUTPUT_VARIABLE text RESULTS_VARIABLE results)
  file(REMOVE ${OUTPUT}.part)
  if(NOT "${joined};${results}" STREQUAL "0;0;0")
    message(FATAL_ERROR "cat, zopfli or base85.mjs failed: ${joined};${results}")
  endif()
  set(${variable} "${text}" PARENT_SCOPE)
endfunction()

string(REPLACE "|" ";" scripts "${SCRIPTS}")
string(REPLACE "|" ";" worker "${WORKER}")
# Without blanks before lines and without lines of comment: no text in the scripts goes over lines.
execute_process(COMMAND cat ${scripts} COMMAND sed -E "s/^[ \t]+//; /^\\/\\//d"
                OUTPUT_VARIABLE script RESULTS_VARIABLE results)
if(NOT "${results}" STREQUAL "0;0")
  message(FATAL_ERROR "cat or sed failed: ${results}")
endif()
file(READ "${HTML}" page)
file(READ "${CSS}" style)
packed(module ${MODULE})
packed(worker ${worker})
string(REPLACE "{{STYLE}}" "${style}" page "${page}")
string(REPLACE "{{VERSION}}" "${VERSION}" page "${page}")
string(REPLACE "{{SCRIPT}}" "${script}" page "${page}")
string(REPLACE "{{WORKER}}" "${worker}" page "${page}")
string(REPLACE "{{MODULE}}" "${module}" page "${page}")
file(WRITE "${OUTPUT}" "${page}")
