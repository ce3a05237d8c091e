using System.Text;

namespace DecayAtlas.Kit;

/// <summary>Writes kits, a folder for each group.</summary>
public static class KitFolder
{
    /// <summary>The names of all files of a kit.</summary>
    public static IReadOnlyList<string> Files { get; } =
    [
        .. KitPage.All.Select(page => page.File), KitBook.FileName, KitStyle.FileName, "mark.svg",
        .. CheckInOneFile.IsThere ? [CheckInOneFile.FileName] : Array.Empty<string>(),
    ];

    /// <summary>A file of a kit.</summary>
    internal static byte[] Content(GroupKit kit, string file) => file switch
    {
        KitBook.FileName => KitBook.Write(kit),
        KitStyle.FileName => Encoding.UTF8.GetBytes(KitStyle.For(kit.Paper)),
        CheckInOneFile.FileName => Encoding.UTF8.GetBytes(CheckInOneFile.Text(kit.Words.Code, kit.BuiltIn, isForGroup: true)),
        "mark.svg" => Encoding.UTF8.GetBytes(KitStyle.Mark),
        _ => Encoding.UTF8.GetBytes(KitPage.All.First(page => page.File == file).Write(kit)),
    };

    /// <returns>The folders, in the order of the groups.</returns>
    /// <exception cref="ConfigurationException">A kit is there already; somebody may have filled it in.</exception>
    /// <exception cref="StorageException">A folder can't be written.</exception>
    public static IReadOnlyList<string> Write(IReadOnlyList<GroupKit> kits, string parent)
    {
        string[] folders = [.. kits.Select(kit => Path.Combine(parent, kit.Group.Id))];
        if (folders.FirstOrDefault(Path.Exists) is { } there)
            throw new ConfigurationException(kits[0].Words.Say("option.kit-there", there));

        foreach ((GroupKit kit, string folder) in kits.Zip(folders))
        {
            foreach (string file in Files)
            {
                string path = Path.Combine(folder, file);
                DurableFile.Guard(path, () => DurableFile.WriteLazily(path, stream => stream.Write(Content(kit, file))));
            }
        }

        return folders;
    }
}
