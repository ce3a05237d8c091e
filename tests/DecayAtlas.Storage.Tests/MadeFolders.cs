namespace DecayAtlas.Storage.Tests;

public sealed class MadeFolders
{
    [Fact]
    public void Two_kinds_of_made_things_lie_side_by_side_each_with_its_own_link()
    {
        string parent = Directory.CreateTempSubdirectory("decayatlas-").FullName;
        try
        {
            MadeFolder.Ensure(parent, "m-1", _ => { });
            MadeFolder.Ensure(parent, "m-2", _ => { }, "current-stabilisation");
            Assert.False(MadeFolder.Ensure(parent, "m-1", _ => throw new InvalidOperationException("made twice")).IsNew);
            Assert.Equal("m-1", MadeFolder.CurrentIdOf(parent));
            Assert.Equal("m-2", MadeFolder.CurrentIdOf(parent, "current-stabilisation"));
            Assert.Equal(["m-1", "m-2"], MadeFolder.CurrentIdsOf(parent).Order());

            MadeFolder.Unlink(parent, "current-stabilisation");
            MadeFolder.Unlink(parent, "current-stabilisation");
            Assert.Null(MadeFolder.CurrentIdOf(parent, "current-stabilisation"));
            Assert.Equal(["current", "m-1", "m-2"], Directory.GetFileSystemEntries(parent).Select(Path.GetFileName).Order());
        }
        finally
        {
            Directory.Delete(parent, recursive: true);
        }
    }

    [Fact]
    public void One_that_could_not_be_made_leaves_nothing_behind()
    {
        string parent = Directory.CreateTempSubdirectory("decayatlas-").FullName;
        try
        {
            Assert.Throws<InvalidOperationException>(() => MadeFolder.Ensure(parent, "m-1", folder =>
            {
                File.WriteAllText(Path.Combine(folder, "half"), "half");
                throw new InvalidOperationException("too few rows");
            }));
            Assert.Empty(Directory.GetFileSystemEntries(parent));
        }
        finally
        {
            Directory.Delete(parent, recursive: true);
        }
    }
}
