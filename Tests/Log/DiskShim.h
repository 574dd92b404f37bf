// SPDX-License-Identifier: GPL-3.0-or-later
// A disk that fails or dawdles when it is told to, between SQLite and the real one. In force for as long as it lives, for
// connections that are opened meanwhile; they must be closed before it goes.
#pragma once

#include <atomic>
#include <chrono>
#include <memory>
#include <new>
#include <sqlite3.h>
#include <stdexcept>
#include <thread>

namespace headland::test {

class DiskShim {
public:
    DiskShim() : real(sqlite3_vfs_find(nullptr)), shim(*real) {
        shim.zName = "headland-test-disk";
        shim.pNext = nullptr;
        shim.pAppData = this;
        shim.szOsFile = static_cast<int>(sizeof(File)) + real->szOsFile;
        shim.xOpen = [](sqlite3_vfs* vfs, sqlite3_filename name, sqlite3_file* file, int flags,
                        int* outFlags) {
            auto& disk = *static_cast<DiskShim*>(vfs->pAppData);
            auto* ours = new (file) File{{nullptr}, &disk};
            const auto code = disk.real->xOpen(disk.real, name, realOf(file), flags, outFlags);
            if (realOf(file)->pMethods != nullptr)
                ours->base.pMethods = &disk.methods;
            return code;
        };
        fillMethods();
        if (sqlite3_vfs_register(&shim, 1) != SQLITE_OK)
            throw std::runtime_error("no disk for the test");
    }
    ~DiskShim() {
        sqlite3_vfs_unregister(&shim);
        sqlite3_vfs_register(real, 1);
    }
    DiskShim(const DiskShim&) = delete;
    DiskShim& operator=(const DiskShim&) = delete;

    std::atomic<int> writeResult{SQLITE_OK}; ///< what a write is answered with instead of being done
    std::atomic<int> syncResult{
        SQLITE_OK};              ///< what a sync is answered with; what was written before stays written
    std::atomic<int> sync_ms{0}; ///< how long one takes
    std::atomic<int> syncs{0}, refusals{0};

private:
    struct File {
        sqlite3_file base;
        DiskShim* disk;
    };

    static sqlite3_file* realOf(sqlite3_file* file) {
        return reinterpret_cast<sqlite3_file*>(reinterpret_cast<File*>(file) + 1);
    }
    static DiskShim& diskOf(sqlite3_file* file) { return *reinterpret_cast<File*>(file)->disk; }

    /// Hands a call on to the real disk's function of the same name.
    template <auto Method>
    struct HandOn;
    template <typename... Values, int (*sqlite3_io_methods::*Method)(sqlite3_file*, Values...)>
    struct HandOn<Method> {
        static int call(sqlite3_file* file, Values... values) {
            auto* to = realOf(file);
            return (to->pMethods->*Method)(to, values...);
        }
    };

    void fillMethods() {
        using M = sqlite3_io_methods;
        methods.iVersion = 2; // with the shared memory of the log, without mapped files
        methods.xClose = HandOn<&M::xClose>::call;
        methods.xRead = HandOn<&M::xRead>::call;
        methods.xWrite = [](sqlite3_file* file, const void* bytes, int count, sqlite3_int64 at) {
            if (const int result = diskOf(file).writeResult; result != SQLITE_OK) {
                ++diskOf(file).refusals;
                return result;
            }
            return HandOn<&M::xWrite>::call(file, bytes, count, at);
        };
        methods.xTruncate = HandOn<&M::xTruncate>::call;
        methods.xSync = [](sqlite3_file* file, int flags) {
            auto& disk = diskOf(file);
            ++disk.syncs;
            std::this_thread::sleep_for(std::chrono::milliseconds(disk.sync_ms));
            if (const int result = disk.syncResult; result != SQLITE_OK) {
                ++disk.refusals;
                return result;
            }
            return HandOn<&M::xSync>::call(file, flags);
        };
        methods.xFileSize = HandOn<&M::xFileSize>::call;
        methods.xLock = HandOn<&M::xLock>::call;
        methods.xUnlock = HandOn<&M::xUnlock>::call;
        methods.xCheckReservedLock = HandOn<&M::xCheckReservedLock>::call;
        methods.xFileControl = HandOn<&M::xFileControl>::call;
        methods.xSectorSize = HandOn<&M::xSectorSize>::call;
        methods.xDeviceCharacteristics = HandOn<&M::xDeviceCharacteristics>::call;
        methods.xShmMap = HandOn<&M::xShmMap>::call;
        methods.xShmLock = HandOn<&M::xShmLock>::call;
        methods.xShmBarrier = [](sqlite3_file* file) { realOf(file)->pMethods->xShmBarrier(realOf(file)); };
        methods.xShmUnmap = HandOn<&M::xShmUnmap>::call;
    }

    sqlite3_vfs* const real;
    sqlite3_vfs shim;
    sqlite3_io_methods methods{};
};

} // namespace headland::test
