/* Stands in for a library of Windows that Wine 8 lacks, in the check under Wine alone. */
#include <windows.h>

BOOLEAN NTAPI SystemFunction036(PVOID buffer, ULONG length);

__declspec(dllexport) BOOL WINAPI ProcessPrng(PBYTE buffer, SIZE_T length) {
  return SystemFunction036(buffer, (ULONG)length);
}
