# What `cpack -G DEB` makes: program, library, headers, pages and completions in one package, stripped, with
# the dependencies that its program was linked to.
set(CPACK_PACKAGE_NAME rodbook)
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
set(CPACK_PACKAGE_CONTACT "The makers of rodbook <rodbook@field-book.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "field book for differential leveling in the terminal")
set(CPACK_PACKAGE_DESCRIPTION "Sights are typed into a form and are on disk when the screen says so.
Height of instrument, elevation, misclosure and the margin of a long sight
follow every key. Pages, closings, drops and pictures leave as text, CSV,
SVG and HTML.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_GENERATOR DEB)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ
    GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_PRE_BUILD_SCRIPTS ${CMAKE_CURRENT_LIST_DIR}/package-files.cmake)
set(CPACK_RODBOOK_SOURCE ${CMAKE_CURRENT_SOURCE_DIR})
include(CPack)
