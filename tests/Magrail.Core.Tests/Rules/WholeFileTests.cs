using System.Text;

namespace Magrail.Tests.Rules;

/// <summary>Files are whole or not there.</summary>
public class WholeFileTests
{
    [Fact]
    public void What_breaks_off_in_the_middle_leaves_what_was_there()
    {
        string folder = Directory.CreateTempSubdirectory("whole-").FullName;
        try
        {
            string path = Path.Combine(folder, "sub", "file.txt");
            WholeFile.WriteText(path, "before ✓");
            Assert.Equal("before ✓", File.ReadAllText(path));
            Assert.Throws<InvalidOperationException>(() => WholeFile.Write(path, stream =>
            {
                stream.Write(Encoding.UTF8.GetBytes("half"));
                throw new InvalidOperationException();
            }));
            Assert.Equal("before ✓", File.ReadAllText(path));
            Assert.Equal([path], Directory.GetFiles(Path.GetDirectoryName(path)!));
            WholeFile.WriteText(path, "after");
            Assert.Equal("after", File.ReadAllText(path));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData(" ")]
    public void A_path_that_is_none_is_refused(string path)
        => Assert.Throws<ArgumentException>(() => WholeFile.WriteText(path, "x"));
}
