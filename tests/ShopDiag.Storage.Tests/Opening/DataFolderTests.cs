namespace ShopDiag.Storage.Tests.Opening;

public sealed class DataFolderTests
{
    private static readonly string Home = Path.Combine(Path.GetTempPath(), "somebody", ".local", "share");

    [Fact]
    public void The_command_line_goes_before_the_environment_and_that_before_the_users_own_folder()
    {
        Assert.Equal("/asked", DataFolder.Resolve("/asked", "/variable", Home));
        Assert.Equal("/variable", DataFolder.Resolve(null, "/variable", Home));
        Assert.Equal("/variable", DataFolder.Resolve("  ", " /variable ", Home));
        Assert.Equal(Path.Combine(Home, "ShopDiag"), DataFolder.Resolve(null, "", Home));
    }

    [Theory]
    [InlineData("")]
    [InlineData("share")]
    public void Without_a_home_the_records_do_not_land_in_the_working_folder(string applicationData) =>
        Assert.Equal("/var/lib/shopdiag", DataFolder.Resolve(null, null, applicationData));

    [Fact]
    public void A_relative_folder_is_taken_from_the_working_folder() =>
        Assert.Equal(Path.Combine(Path.GetTempPath().TrimEnd('/'), "x"), DataFolder.Resolve(Path.Combine(Path.GetTempPath(), "y", "..", "x"), null, Home));

    [Fact]
    public void Records_never_go_into_the_source_tree()
    {
        var tree = Directory.CreateTempSubdirectory().FullName;
        File.WriteAllText(Path.Combine(tree, "ShopDiag.sln"), "");
        var inside = Path.Combine(tree, "not", "yet", "made");
        var refusal = Assert.Throws<DataFolderException>(() => DataFolder.Resolve(inside, null, Home));
        Assert.Contains(inside, refusal.Message, StringComparison.Ordinal);
        Assert.Throws<DataFolderException>(() => DataFolder.Resolve(null, tree, Home));
        Assert.Throws<DataFolderException>(() => DataFolder.Resolve(null, null, tree));
        Directory.Delete(tree, recursive: true);
    }

    [Fact]
    public void The_default_is_a_full_path_that_ends_in_our_name_or_is_the_one_named_in_the_environment() =>
        Assert.True(Path.IsPathFullyQualified(DataFolder.Default()));
}
