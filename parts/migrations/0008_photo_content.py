from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('parts', '0007_ways_back'),
    ]

    operations = [
        migrations.AddField(
            model_name='photo',
            name='content',
            field=models.CharField(blank=True, default='', max_length=64),
        ),
    ]
