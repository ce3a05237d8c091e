namespace DecayAtlas.Storage.Tests;

public sealed class DurableFiles : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("decayatlas-").FullName;

    private string[] Names => [.. Directory.GetFiles(_folder).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal)];

    private string PathOf(string name) => Path.Combine(_folder, name);

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void What_fails_while_it_is_written_leaves_the_old_file_and_nothing_beside_it()
    {
        DurableFile.WriteText(PathOf("a"), "old");

        Assert.Throws<InvalidOperationException>(() => DurableFile.Write(PathOf("a"), stream =>
        {
            stream.Write("half"u8);
            throw new InvalidOperationException();
        }));

        Assert.Equal("old", File.ReadAllText(PathOf("a")));
        Assert.Equal(["a"], Names);
    }

    [Fact]
    public void Of_several_files_none_is_in_its_place_before_all_are_written()
    {
        Assert.Throws<InvalidOperationException>(() => DurableFile.Replace<int>([PathOf("a"), PathOf("b")], unfinished =>
        {
            File.WriteAllText(unfinished(PathOf("a")), "whole");
            throw new InvalidOperationException();
        }));
        Assert.Empty(Names);

        Assert.Equal(2, DurableFile.Replace([PathOf("a"), PathOf("b")], unfinished =>
        {
            File.WriteAllText(unfinished(PathOf("a")), "1");
            File.WriteAllText(unfinished(PathOf("b")), "2");
            return Names.Length;
        }));
        Assert.Equal(["a", "b"], Names);
    }

    [Fact]
    public void What_the_operating_system_refuses_is_one_sentence()
    {
        Directory.CreateDirectory(PathOf("a"));

        StorageException fault =
            Assert.Throws<StorageException>(() => DurableFile.Guard(PathOf("a"), () => DurableFile.WriteText(PathOf("a"), "text")));

        Assert.StartsWith($"{PathOf("a")} could not be written because ", fault.Message, StringComparison.Ordinal);
    }
}
