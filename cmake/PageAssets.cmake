# The page's HTML, CSS, JavaScript and three.js become part of the program.
set(PAGE_SCRIPT_DIR ${CMAKE_CURRENT_SOURCE_DIR}/src/report/page/script)
file(GLOB PAGE_MODEL CONFIGURE_DEPENDS ${PAGE_SCRIPT_DIR}/model/*.js)
file(GLOB PAGE_VIEW CONFIGURE_DEPENDS ${PAGE_SCRIPT_DIR}/view/*.js)
set(PAGE_SCRIPTS ${PAGE_MODEL} ${PAGE_VIEW} ${PAGE_SCRIPT_DIR}/main.js)
list(JOIN PAGE_SCRIPTS "|" PAGE_SCRIPT_LIST)
set(PAGE_DIR ${CMAKE_CURRENT_SOURCE_DIR}/src/report/page)
add_custom_command(OUTPUT ${PROJECT_BINARY_DIR}/page_assets.cpp
  COMMAND ${CMAKE_COMMAND} "-DOUTPUT=${PROJECT_BINARY_DIR}/page_assets.cpp"
          "-DHTML=${PAGE_DIR}/page.html" "-DCSS=${PAGE_DIR}/page.css"
          "-DSCRIPTS=${PAGE_SCRIPT_LIST}" "-DTHREE=${LEASTWALL_THREE}"
          -P ${CMAKE_CURRENT_SOURCE_DIR}/cmake/EmbedPage.cmake
  DEPENDS ${PAGE_SCRIPTS} ${PAGE_DIR}/page.html ${PAGE_DIR}/page.css ${LEASTWALL_THREE}
          ${CMAKE_CURRENT_SOURCE_DIR}/cmake/EmbedPage.cmake
  VERBATIM)
