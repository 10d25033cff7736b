# What `cmake --install` puts beside the programs, and the Debian package (`cpack -G DEB`).
set(DOC_DIR ${CMAKE_INSTALL_DATAROOTDIR}/doc/leastwall)
install(FILES ${PROJECT_SOURCE_DIR}/README.md ${PROJECT_SOURCE_DIR}/LICENSE
        DESTINATION ${DOC_DIR} OPTIONAL)
# Debian policy 12.5: the licence of a package lies in a file of this name.
install(FILES ${PROJECT_SOURCE_DIR}/cmake/copyright DESTINATION ${DOC_DIR})

# `leastwall start` copies these.
foreach(mesh gourd_pocket.stl gourd_skin.stl leaf_back.ply leaf_front.ply README.md)
  install(FILES ${PROJECT_SOURCE_DIR}/meshes/${mesh}
          DESTINATION ${CMAKE_INSTALL_DATAROOTDIR}/leastwall/meshes)
endforeach()

# The page for browsers, where scripts/browser.sh has built it.
install(FILES ${PROJECT_SOURCE_DIR}/build/browser/leastwall.html
        DESTINATION ${CMAKE_INSTALL_DATAROOTDIR}/leastwall OPTIONAL)

file(GLOB SCHEMAS CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/src/report/json/*.schema.json)
install(FILES ${SCHEMAS} DESTINATION ${CMAKE_INSTALL_DATAROOTDIR}/leastwall/schema)

if(TARGET leastwall AND NOT CMAKE_CROSSCOMPILING)
  install(FILES ${PROJECT_BINARY_DIR}/leastwall.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
  install(FILES ${PROJECT_BINARY_DIR}/leastwall.bash
          DESTINATION ${CMAKE_INSTALL_DATAROOTDIR}/bash-completion/completions RENAME leastwall)
endif()

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME leastwall)
set(CPACK_PACKAGE_VENDOR "leastwall contributors")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "${PROJECT_DESCRIPTION}")
set(CPACK_PACKAGE_CONTACT "leastwall contributors <leastwall@leastwall.invalid>")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_RESOURCE_FILE_LICENSE ${PROJECT_SOURCE_DIR}/LICENSE)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION graphics)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_DEPENDS fonts-dejavu-core)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
include(CPack)
