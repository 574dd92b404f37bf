// SPDX-License-Identifier: GPL-3.0-or-later
// Output files: whole or not there; an older file stays until the new one is whole; what cannot be written is said
// before the work starts, and a full disk when it happens.

#include "Files/OutputFile.h"

#include "Files/Errors.h"
#include "Files/OutputFileStream.h"
#include "Files/WavWriter.h"
#include "Tests/Files/Refusal.h"
#include "Tests/Files/SoundFiles.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Support/Child.h"

#include <catch2/catch.hpp>

#include <cerrno>
#include <csignal>
#include <filesystem>
#include <memory>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

using headland::files::KeptFiles;
using headland::files::OutputError;
using headland::files::OutputFile;
using headland::files::OutputFileStream;
using headland::files::WavWriter;
using namespace headland::test;
using Catch::Matchers::Contains;
using Catch::Matchers::EndsWith;

namespace {

bool syncFails = false;

/// The sentence a file is refused with; empty if it is not refused.
std::string refusalOf(const std::string& path) {
    return sentenceOf<OutputError>([&] { const OutputFile file(path, {}); });
}

void requireRefusal(const std::string& path, const std::string& trouble) {
    requireSentence(refusalOf(path), path, trouble);
}

/// From here on this process's files may not grow beyond the limit: a full disk, as far as a program can tell.
void limitFileSize(rlim_t limit_bytes) {
    std::signal(SIGXFSZ, SIG_IGN);                  // then write() fails with EFBIG, as it would with ENOSPC
    const rlimit limit{limit_bytes, RLIM_INFINITY}; // the second: how far it may be raised again
    ::setrlimit(RLIMIT_FSIZE, &limit);
}

} // namespace

/// In place of the system's: a disk that says only when it is asked that it is full.
extern "C" int fsync(int descriptor) {
    if (!syncFails)
        return static_cast<int>(::syscall(SYS_fsync, descriptor));
    errno = ENOSPC;
    return -1;
}

TEST_CASE("An output file is in its place, whole, after commit and not before") {
    const TestFolder folder;
    const auto path = folder / "log.csv";
    std::string expected;
    {
        OutputFile file(path, {});
        CHECK(file.path() == path);
        for (int line = 0; line < 20000; ++line) { // several buffers full
            const auto text = std::to_string(line) + ",3.14\r\n";
            expected += text;
            file.write(text);
            REQUIRE(file.position_bytes() == static_cast<std::int64_t>(expected.size()));
        }
        const std::string great(200000, 'x'); // more than a buffer at once
        expected += great;
        file.write(great);
        CHECK_FALSE(std::filesystem::exists(path));
        file.commit();
        CHECK(contentOf(path) == expected);
    }
    CHECK(contentOf(path) == expected);
    CHECK(folder.count() == 1);
}

TEST_CASE("A place in an output file can be gone back to and written again") {
    const TestFolder folder;
    OutputFile file(folder / "log.csv", {});
    file.write("0123456789");
    file.seek(2);
    CHECK(file.position_bytes() == 2);
    file.write("ab");
    CHECK(file.position_bytes() == 4);
    file.seek(10);
    file.write("end");
    file.commit();
    CHECK(contentOf(folder / "log.csv") == "01ab456789end");
}

TEST_CASE("An output file without commit leaves the folder as it was") {
    const TestFolder folder;
    put(folder / "old.csv", "older");
    {
        OutputFile replacing(folder / "old.csv", {});
        replacing.write(std::string(100000, 'x'));
        OutputFile fresh(folder / "new.csv", {});
        fresh.write("newer");
        CHECK(folder.count() == 3);
        CHECK(contentOf(folder / "old.csv") == "older");
    }
    CHECK(folder.count() == 1);
    CHECK(contentOf(folder / "old.csv") == "older");
}

TEST_CASE("An output file replaces an older one and keeps its permissions") {
    const TestFolder folder;
    const auto path = folder / "old.csv";
    put(path, "older and longer");
    REQUIRE(::chmod(path.c_str(), 0640) == 0);
    OutputFile file(path, {});
    file.write("newer");
    file.commit();
    CHECK(contentOf(path) == "newer");
    CHECK(std::filesystem::status(path).permissions() == static_cast<std::filesystem::perms>(0640));
}

TEST_CASE("A new output file has the permissions of any new file") {
    const TestFolder folder;
    const auto mask = ::umask(027);
    OutputFile file(folder / "new.csv", {});
    ::umask(mask);
    file.commit();
    CHECK(std::filesystem::status(folder / "new.csv").permissions()
          == static_cast<std::filesystem::perms>(0640));
}

TEST_CASE("An output file that is a link replaces what the link points to") {
    const TestFolder folder;
    std::filesystem::create_directory(folder / "elsewhere");
    put(folder / "elsewhere/real.csv", "older");
    std::filesystem::create_symlink("elsewhere/real.csv", folder / "link.csv");
    OutputFile file(folder / "link.csv", {});
    file.write("newer");
    file.commit();
    CHECK(std::filesystem::is_symlink(folder / "link.csv"));
    CHECK(contentOf(folder / "elsewhere/real.csv") == "newer");
}

TEST_CASE("Two output files of the same name do not disturb each other, the last one stays") {
    const TestFolder folder;
    OutputFile first(folder / "log.csv", {});
    OutputFile second(folder / "log.csv", {});
    first.write("first");
    second.write("second");
    first.commit();
    CHECK(contentOf(folder / "log.csv") == "first");
    second.commit();
    CHECK(contentOf(folder / "log.csv") == "second");
    CHECK(folder.count() == 1);
}

TEST_CASE("A file that is in its place leaves the next one of the same name alone") {
    const TestFolder folder;
    auto first = std::make_unique<OutputFile>(folder / "log.csv", KeptFiles());
    first->commit();
    OutputFile second(folder / "log.csv", {}); // may have the temporary name the first one had
    second.write("second");
    first.reset();
    REQUIRE_NOTHROW(second.commit());
    CHECK(contentOf(folder / "log.csv") == "second");
}

TEST_CASE("An output file can be moved, and what it was moved from lets it be") {
    const TestFolder folder;
    auto file = std::make_unique<OutputFile>(folder / "log.csv", KeptFiles());
    file->write("one ");
    OutputFile moved(std::move(*file));
    file.reset();
    moved.write("two");
    CHECK(moved.position_bytes() == 7);
    REQUIRE_NOTHROW(moved.commit());
    CHECK(contentOf(folder / "log.csv") == "one two");
}

TEST_CASE("Places that cannot be written are refused before the work starts") {
    const TestFolder folder;
    requireRefusal(folder / "nowhere/log.csv", "there is no folder \"" + (folder / "nowhere") + '"');
    requireRefusal(folder.path().string(), "it is a folder");
    requireRefusal(folder.path().string() + "/", "");
    put(folder / "file", "not a folder");
    requireRefusal(folder / "file/log.csv", "there is no folder");
    requireRefusal("/dev/null", "it is a pipe or a device");
    REQUIRE(::mkfifo((folder / "pipe").c_str(), 0600) == 0);
    requireRefusal(folder / "pipe", "it is a pipe or a device");
    std::filesystem::create_symlink("round", folder / "round");
    requireRefusal(folder / "round", "the link cannot be followed");
    requireRefusal(folder / std::string(300, 'x'), "File name too long");
    requireRefusal("", "a file name is missing");
    CHECK(folder.count() == 3);
}

TEST_CASE("A folder that may not be written is refused with the system's reason") {
    const TestFolder folder;
    std::filesystem::permissions(folder.path(), static_cast<std::filesystem::perms>(0555));
    const auto text = inChild([&]() -> std::string {
        if (!becomeNobody())
            return "the child is still root";
        return refusalOf(folder / "log.csv");
    });
    CHECK_THAT(text, Contains(folder / "log.csv") && Contains("Permission denied") && EndsWith("."));
}

TEST_CASE("A full disk is reported while writing, and the older file stays") {
    const TestFolder folder;
    put(folder / "log.csv", "older");
    const auto text = inChild([&]() -> std::string {
        limitFileSize(100000);
        try {
            OutputFile file(folder / "log.csv", {});
            for (int block = 0; block < 100; ++block)
                file.write(std::string(10000, 'x'));
            return "all was written";
        } catch (const OutputError& error) {
            return error.what();
        }
    });
    CHECK_THAT(text, Contains(folder / "log.csv") && Contains("File too large") && EndsWith("."));
    CHECK(contentOf(folder / "log.csv") == "older");
    CHECK(folder.count() == 1);
}

TEST_CASE("A full disk is reported by commit when all was still in the buffer") {
    const TestFolder folder;
    const auto text = inChild([&]() -> std::string {
        limitFileSize(1000);
        try {
            OutputFile file(folder / "log.csv", {});
            file.write(std::string(2000, 'x'));
            file.commit();
            return "all was written";
        } catch (const OutputError& error) {
            return error.what();
        }
    });
    CHECK_THAT(text, Contains(folder / "log.csv") && Contains("File too large"));
    CHECK(folder.count() == 0);
}

TEST_CASE("Commit reports a place that is taken by a folder meanwhile, and a folder that is gone") {
    const TestFolder folder;
    {
        OutputFile file(folder / "log.csv", {});
        std::filesystem::create_directory(folder / "log.csv");
        CHECK_THROWS_WITH(file.commit(), Contains(folder / "log.csv") && Contains("it is a folder"));
    }
    CHECK(folder.count() == 1);

    std::filesystem::create_directory(folder / "short-lived");
    OutputFile file(folder / "short-lived/log.csv", {});
    std::filesystem::remove_all(folder / "short-lived");
    CHECK_THROWS_WITH(file.commit(), Contains("No such file or directory"));
}

TEST_CASE("Writing after commit is a mistake of the program") {
    const TestFolder folder;
    OutputFile file(folder / "log.csv", {});
    file.commit();
    CHECK_THROWS_AS(file.write("late"), std::logic_error);
}

TEST_CASE("A WAV file written into an output file is what another library reads, header completed") {
    const TestFolder folder;
    const auto sound = testSound(2, 100000);
    OutputFile file(folder / "side.wav", {});
    {
        WavWriter writer(file, 48000, "Lantern Sessions");
        REQUIRE(writer.write(sound.getReadPointer(0), sound.getReadPointer(1), 100000));
        writer.finish();
    }
    file.commit();
    const std::unique_ptr<juce::AudioFormatReader> reader(
        juce::WavAudioFormat().createReaderFor(new juce::FileInputStream(juce::File(folder / "side.wav")),
                                               true)); // JUCE's reader knows nothing of libsndfile
    REQUIRE(reader != nullptr);
    CHECK(reader->bitsPerSample == 24);
    CHECK(reader->sampleRate == 48000);
    CHECK(reader->metadataValues[juce::WavAudioFormat::riffInfoTitle] == "Lantern Sessions");
    REQUIRE(reader->lengthInSamples == 100000);
    juce::AudioBuffer<float> read(2, 100000);
    REQUIRE(reader->read(&read, 0, 100000, 0, true, true));
    auto greatest = 0.0f;
    for (int channel = 0; channel < 2; ++channel)
        for (int i = 0; i < 100000; ++i)
            greatest = std::max(greatest, std::abs(read.getSample(channel, i) - soundAt(channel, i)));
    CHECK(greatest <= 1.0f / 8388608); // one step of 24 bit: full scale is the greatest number, not one more
}

TEST_CASE("A disk that says at the very end that it is full has taken nothing's place") {
    const TestFolder folder;
    const auto path = folder / "side.csv";
    put(path, "older");
    OutputFile file(path, {});
    file.write("newer");
    syncFails = true;
    const auto said = sentenceOf<OutputError>([&] { file.commit(); });
    syncFails = false;
    requireSentence(said, path, "No space left on device");
    CHECK(contentOf(path) == "older");
}

TEST_CASE("A full disk behind a WAV file is thrown by commit") {
    const TestFolder folder;
    const auto text = inChild([&]() -> std::string {
        limitFileSize(100000);
        OutputFile file(folder / "side.wav", {});
        const auto sound = testSound(2, 100000);
        {
            WavWriter writer(file, 48000, "");
            if (writer.write(sound.getReadPointer(0), sound.getReadPointer(1), 100000))
                return "the disk took it";
        }
        try {
            file.commit();
            return "all was written";
        } catch (const OutputError& error) {
            return error.what();
        }
    });
    CHECK_THAT(text, Contains(folder / "side.wav") && Contains("File too large"));
    CHECK(folder.count() == 0);
}

TEST_CASE("After a failure the file stays failed, even if there is room again: it has a hole") {
    const TestFolder folder;
    const auto text = inChild([&]() -> std::string {
        limitFileSize(100000);
        OutputFile file(folder / "log.csv", {});
        std::string said;
        for (const bool isCommit : {false, false, true}) {
            try {
                isCommit ? file.commit() : file.write(std::string(200000, 'x'));
                said += "done ";
            } catch (const OutputError&) {
                said += "failed ";
            }
            limitFileSize(RLIM_INFINITY);
        }
        OutputFileStream stream(file);
        return said + (stream.setPosition(0) || stream.write("x", 1) ? "done" : "failed");
    });
    CHECK(text == "failed failed failed failed");
    CHECK_FALSE(std::filesystem::exists(folder / "log.csv"));
}

TEST_CASE("An output file that is a link to nothing makes what the link points to") {
    const TestFolder folder;
    std::filesystem::create_directory(folder / "elsewhere");
    std::filesystem::create_symlink("elsewhere/real.csv", folder / "link.csv");
    OutputFile file(folder / "link.csv", {});
    file.write("newer");
    file.commit();
    CHECK(std::filesystem::is_symlink(folder / "link.csv"));
    CHECK(contentOf(folder / "elsewhere/real.csv") == "newer");
}

TEST_CASE(
    "A file that nobody may write is not replaced, not even by root, nor one that becomes so meanwhile") {
    const TestFolder folder;
    put(folder / "old.csv", "older");
    std::filesystem::create_symlink("old.csv", folder / "link.csv");
    {
        OutputFile file(folder / "old.csv", {});
        file.write("newer");
        REQUIRE(::chmod((folder / "old.csv").c_str(), 0444) == 0);
        CHECK_THROWS_WITH(file.commit(), Contains(folder / "old.csv") && Contains("it is write-protected"));
    }
    requireRefusal(folder / "old.csv", "it is write-protected");
    requireRefusal(folder / "link.csv", "it is write-protected");
    CHECK(contentOf(folder / "old.csv") == "older");
    CHECK(folder.count() == 2);
}

TEST_CASE("What is kept is not replaced, by whatever name, nor when it comes into the place meanwhile") {
    const TestFolder folder;
    put(folder / "side.wav", "the master");
    std::filesystem::create_symlink("side.wav", folder / "link");
    std::filesystem::create_hard_link(folder / "side.wav", folder / "hard");
    KeptFiles kept;
    kept.add(folder / "side.wav", "the program");
    for (const auto* name : {"side.wav", "link", "hard"})
        CHECK_THROWS_WITH(OutputFile(folder / name, kept),
                          Contains(folder / name) && Contains("it would take the place of the program"));
    put(folder / "log.csv", "older");
    OutputFile file(folder / "log.csv", kept);
    file.write("newer");
    std::filesystem::rename(folder / "side.wav", folder / "log.csv"); // a person tidies up
    CHECK_THROWS_WITH(file.commit(), Contains("it would take the place of the program"));
    CHECK(contentOf(folder / "log.csv") == "the master");
}
