# The core as a WebAssembly module: the same layers, other files where a page has no system under it.
# Included in place of everything else; scripts/browser.sh configures it with Debian's emscripten.
set(CMAKE_POSITION_INDEPENDENT_CODE OFF)
set(BROWSER_DIR ${CMAKE_CURRENT_SOURCE_DIR}/src/browser)
set(MATCHING_SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/src)

# Headers alone, beside this system's own, which must stay out of sight.
set(HEADERS ${PROJECT_BINARY_DIR}/headers)
file(MAKE_DIRECTORY ${HEADERS})
foreach(library fmt nlohmann toml++ fast_float eigen3/Eigen boost)
  get_filename_component(name ${library} NAME)
  if(NOT EXISTS /usr/include/${library})
    message(FATAL_ERROR "/usr/include/${library} is missing: scripts/browser.sh installs it")
  endif()
  file(CREATE_LINK /usr/include/${library} ${HEADERS}/${name} SYMBOLIC)
endforeach()
set(LEASTWALL_THREE /usr/share/javascript/three/three.min.js)

file(GLOB_RECURSE SOURCES CONFIGURE_DEPENDS ${MATCHING_SOURCES}/*.cpp)
# Programs of their own, what only they use, and what draws.
list(FILTER SOURCES EXCLUDE REGEX
     "/src/(app|import|hollow|field/module|check/(hollow|fields)|report/(maps|section))/")
list(FILTER SOURCES EXCLUDE REGEX
     "/src/(check/reports/report_files|report/pour/pour_picture|report/draw/(picture|callouts)|report/draw/canvas/(cairo_canvas|pdf_whole|png_file)|field/fields_file)\\.cpp$")
# A file of browser/instead/ stands in for the one of its name.
file(GLOB INSTEAD CONFIGURE_DEPENDS ${BROWSER_DIR}/instead/*.cpp)
foreach(file IN LISTS INSTEAD)
  get_filename_component(name ${file} NAME)
  list(FILTER SOURCES EXCLUDE REGEX "/src/[a-z/]*/${name}$")
endforeach()
list(FILTER SOURCES EXCLUDE REGEX "/src/(base/file/map_guard|mesh/importing/child_process)\\.cpp$")
list(APPEND SOURCES ${INSTEAD} ${MATCHING_SOURCES}/app/os/exit_status.cpp
     ${MATCHING_SOURCES}/report/maps/side_marks.cpp ${MATCHING_SOURCES}/report/section/section_view.cpp)
# The demo is made, not carried.
set(GENERATOR ${CMAKE_CURRENT_SOURCE_DIR}/meshes/generator)
list(APPEND SOURCES ${GENERATOR}/gourd_mesh.cpp ${GENERATOR}/gourd_shape.cpp ${GENERATOR}/mesh_stream.cpp)

include(PageAssets)
add_executable(leastwall-core ${SOURCES} ${PROJECT_BINARY_DIR}/page_assets.cpp)
target_include_directories(leastwall-core PRIVATE ${BROWSER_DIR}/instead ${MATCHING_SOURCES} ${GENERATOR})
target_include_directories(leastwall-core SYSTEM PRIVATE ${HEADERS})
target_compile_definitions(leastwall-core PRIVATE LEASTWALL_VERSION="${PROJECT_VERSION}")
target_compile_options(leastwall-core PRIVATE
  -O3 -msimd128 -fwasm-exceptions -Wno-unused-command-line-argument)
# Where time is not spent, the page is kept small.
set(SMALL_SOURCES ${SOURCES})
list(FILTER SMALL_SOURCES INCLUDE REGEX "/src/(report|job|app|browser|check|parts|pour|setup|bed/readings|budget/pad|wall/fit)/")
set_source_files_properties(${SMALL_SOURCES} PROPERTIES COMPILE_OPTIONS "-O2;-fno-vectorize;-fno-slp-vectorize;-fno-unroll-loops;-mllvm;-inline-threshold=5")
# Reading headers is most of the work; these are read once.
target_precompile_headers(leastwall-core PRIVATE ${BROWSER_DIR}/instead/libcxx_13.h <algorithm> <array>
  <cmath> <filesystem> <fmt/format.h> <functional> <map> <memory> <optional> <set> <span> <string> <vector>)
target_link_libraries(leastwall-core PRIVATE leastwall_flags)
target_link_options(leastwall-core PRIVATE
  -O3 -fwasm-exceptions
  -sMODULARIZE=1 -sEXPORT_NAME=leastwallCore -sENVIRONMENT=worker,node -sFORCE_FILESYSTEM=1
  -sALLOW_MEMORY_GROWTH=1 -sMAXIMUM_MEMORY=4GB -sTOTAL_STACK=4MB -sINCOMING_MODULE_JS_API=[wasmBinary]
  -sEXPORTED_FUNCTIONS=[_malloc,_free] -sEXPORTED_RUNTIME_METHODS=[FS,UTF8ToString] -sNODEJS_CATCH_EXIT=0 -sNODEJS_CATCH_REJECTION=0)

# The page: one file with all of it inside.
set(PAGE ${BROWSER_DIR}/page)
set(PAGE_SCRIPTS ${PAGE}/30_names.js ${PAGE}/50_work.js ${PAGE}/55_form.js ${PAGE}/60_screen.js
    ${PAGE}/62_answer.js ${PAGE}/65_setup.js)
set(WORKER_SCRIPTS ${PROJECT_BINARY_DIR}/leastwall-core.js ${PAGE}/10_core.js ${PAGE}/20_worker.js)
list(JOIN PAGE_SCRIPTS "|" PAGE_SCRIPT_LIST)
list(JOIN WORKER_SCRIPTS "|" WORKER_SCRIPT_LIST)
add_custom_command(OUTPUT ${PROJECT_BINARY_DIR}/leastwall.html
  COMMAND ${CMAKE_COMMAND} "-DHTML=${PAGE}/page.html" "-DCSS=${PAGE}/page.css"
          "-DSCRIPTS=${PAGE_SCRIPT_LIST}" "-DWORKER=${WORKER_SCRIPT_LIST}"
          "-DMODULE=${PROJECT_BINARY_DIR}/leastwall-core.wasm" "-DVERSION=${PROJECT_VERSION}"
          "-DOUTPUT=${PROJECT_BINARY_DIR}/leastwall.html"
          -P ${CMAKE_CURRENT_SOURCE_DIR}/cmake/PackPage.cmake
  DEPENDS leastwall-core ${PAGE}/page.html ${PAGE}/page.css ${PAGE_SCRIPTS} ${PAGE}/10_core.js
          ${PAGE}/20_worker.js ${CMAKE_CURRENT_SOURCE_DIR}/cmake/PackPage.cmake
          ${CMAKE_CURRENT_SOURCE_DIR}/cmake/base85.mjs
  VERBATIM)
add_custom_target(leastwall-page ALL DEPENDS ${PROJECT_BINARY_DIR}/leastwall.html)
