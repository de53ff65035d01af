@echo off
rem Starts Sumpwright and opens its page. Close this window to stop it.
title Sumpwright
cd /d "%~dp0"
sumpwright.exe --open %*
if errorlevel 1 pause
